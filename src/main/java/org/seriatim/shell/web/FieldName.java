package org.seriatim.shell.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;

/**
 * The path of a form's field, such as {@code depthMm} or {@code rows[2].depthMm}, as the
 * pages use it.
 *
 * @param path the path
 */
record FieldName(String path) {

	private static final Pattern INDEX = Pattern.compile("\\[(\\d{1,6})]");

	/** The id of the field's control, as Thymeleaf makes it. */
	String id() {
		return this.path.replace("[", "").replace("]", "");
	}

	/** The path without its indexes, under which a label can be found. */
	String withoutIndexes() {
		return INDEX.matcher(this.path).replaceAll("");
	}

	/** The component of the form that the field belongs to. */
	String component() {
		return this.path.split("[.\\[]", 2)[0];
	}

	/** The numbers of the lines the field stands in, counted from 1. */
	List<Integer> lines() {
		var lines = new ArrayList<Integer>();
		var index = INDEX.matcher(this.path);
		while (index.find()) {
			lines.add(Integer.parseInt(index.group(1)) + 1);
		}
		return lines;
	}

	/** The last part of the path in words: {@code depthMm} becomes "Depth mm". */
	String words() {
		var parts = Arrays.asList(withoutIndexes().split("\\."));
		var last = parts.get(parts.size() - 1);
		var words = last.replaceAll("(?<=[a-z0-9])(?=[A-Z])|_", " ").strip().toLowerCase(Locale.ROOT);
		return words.isEmpty() ? last : words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
	}

	/** Text that sorts like the lines of the form. */
	String sortable() {
		return INDEX.matcher(this.path)
			.replaceAll((index) -> String.format(Locale.ROOT, "[%06d]", Integer.parseInt(index.group(1))));
	}

}
