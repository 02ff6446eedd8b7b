package org.seriatim.support;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;

import tools.jackson.core.type.TypeReference;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * Figures of the sample clinic that a program written apart from this one computed.
 */
public final class Expected {

	private Expected() {
	}

	/** Rows of {@code expected.json} of one table. */
	public static List<JsonNode> figures(String table) {
		var rows = rows("expected.json").filter((row) -> row.get("table").asString().equals(table)).toList();
		if (rows.isEmpty()) {
			throw new IllegalArgumentException("no expected figures for " + table);
		}
		return rows;
	}

	/**
	 * The advice on 2026-11-20 for every open series, by record number, as
	 * {@code expected-advice.json} has it.
	 */
	public static List<Map<String, Object>> advice() {
		return rows("expected-advice.json")
			.map((row) -> JsonMapper.shared().convertValue(row, new TypeReference<Map<String, Object>>() {
			}))
			.toList();
	}

	private static Stream<JsonNode> rows(String name) {
		try (var file = Expected.class.getResourceAsStream("/sample-clinic/" + name)) {
			return StreamSupport.stream(JsonMapper.shared().readTree(file).spliterator(), false);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

}
