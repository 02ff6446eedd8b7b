package org.seriatim.backup.domain;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Lines of fields with a tab between, as the entries of an archive hold them that are not
 * tables or files: UTF-8, each line ended by a line feed; tab, line feed, carriage return
 * and percent sign within a field are written as {@code %09}, {@code %0A}, {@code %0D}
 * and {@code %25}.
 */
final class Lines {

	private final StringBuilder text = new StringBuilder();

	Lines add(Object... fields) {
		this.text
			.append(Stream.of(fields).map((field) -> escaped(String.valueOf(field))).collect(Collectors.joining("\t")))
			.append('\n');
		return this;
	}

	byte[] bytes() {
		return this.text.toString().getBytes(StandardCharsets.UTF_8);
	}

	static List<List<String>> read(byte[] bytes) {
		var lines = new ArrayList<List<String>>();
		new String(bytes, StandardCharsets.UTF_8).lines()
			.forEach((line) -> lines.add(Stream.of(line.split("\t", -1)).map(Lines::unescaped).toList()));
		return lines;
	}

	private static String escaped(String field) {
		return field.replace("%", "%25").replace("\t", "%09").replace("\n", "%0A").replace("\r", "%0D");
	}

	private static String unescaped(String field) {
		return field.replace("%0D", "\r").replace("%0A", "\n").replace("%09", "\t").replace("%25", "%");
	}

}
