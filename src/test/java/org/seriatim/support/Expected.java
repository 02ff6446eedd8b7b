package org.seriatim.support;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.stream.StreamSupport;

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
		try (var file = Expected.class.getResourceAsStream("/sample-clinic/expected.json")) {
			var rows = StreamSupport.stream(JsonMapper.shared().readTree(file).spliterator(), false)
				.filter((row) -> row.get("table").asString().equals(table))
				.toList();
			if (rows.isEmpty()) {
				throw new IllegalArgumentException("no expected figures for " + table);
			}
			return rows;
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

}
