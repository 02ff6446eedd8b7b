package org.seriatim.record.web;

import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.function.BinaryOperator;
import java.util.function.UnaryOperator;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.EntryVersion;
import org.seriatim.access.VersionedEntry;
import org.seriatim.shell.ColumnWords;
import org.seriatim.shell.Written;

/**
 * All versions of an entry side by side, one line a field, the latest version first.
 */
record VersionTable(List<Head> heads, List<Line> lines) {

	/** What is no content, or stands at the head of the version. */
	private static final Set<String> NO_CONTENT = Set.of("id", "version", "recorded_at", "recorded_by",
			"correction_reason", "search_text", "patient_id", "starts_offset_minutes", "ends_offset_minutes");

	/**
	 * Who entered a version, when and why.
	 *
	 * @param by nobody for what was imported or entered by the service itself
	 * @param latest whether it is the one that holds
	 */
	record Head(long number, String at, @Nullable String by, @Nullable String reason, boolean latest) {
	}

	/** One field in all versions. */
	record Line(String column, List<Cell> cells) {
	}

	/**
	 * What one version says of a field.
	 *
	 * @param text as it is read, {@code null} if the version says nothing of it
	 * @param word message key of the text where it is a word of the records
	 * @param changed whether the version before said something else
	 */
	record Cell(@Nullable String text, @Nullable String word, boolean changed) {
	}

	/**
	 * @param staffName the name of a member of staff by id
	 * @param referenceName what an entry that a column refers to is called, by column and
	 * id, or {@code null} if the column refers to none
	 */
	static VersionTable of(VersionedEntry entry, ZoneId zone, UnaryOperator<String> staffName,
			BinaryOperator<@Nullable String> referenceName) {
		var heads = new ArrayList<Head>();
		for (EntryVersion version : entry.versions()) {
			var by = version.recorded().recordedBy();
			heads.add(new Head(version.number(), Written.time(version.recorded().recordedAt(), zone),
					(by != null) ? staffName.apply(by.toString()) : null, version.recorded().correctionReason(),
					heads.isEmpty() && !entry.removed()));
		}
		var columns = new LinkedHashSet<String>();
		entry.versions().forEach((version) -> columns.addAll(version.content().keySet()));
		columns.removeAll(NO_CONTENT);
		if (columns.contains("question")) {
			// says what the word of the item stands for
			columns.remove("item");
		}
		return new VersionTable(heads, columns.stream().sorted().map((column) -> {
			var cells = new ArrayList<Cell>();
			for (int at = 0; at < entry.versions().size(); at++) {
				var value = entry.versions().get(at).content().get(column);
				var isFirst = at == entry.versions().size() - 1;
				var changed = !isFirst && !Objects.equals(value, entry.versions().get(at + 1).content().get(column));
				cells.add(cell(entry.kind(), column, value, changed, zone, referenceName));
			}
			return new Line(column, cells);
		}).toList());
	}

	private static Cell cell(String kind, String column, @Nullable String value, boolean changed, ZoneId zone,
			BinaryOperator<@Nullable String> referenceName) {
		if (value == null) {
			return new Cell(null, null, changed);
		}
		var word = ColumnWords.key(kind, column, value);
		if (word.isPresent()) {
			return new Cell(value, word.get(), changed);
		}
		if (value.equals("true") || value.equals("false")) {
			return new Cell(value, value.equals("true") ? "shell.yes" : "shell.no", changed);
		}
		var reference = referenceName.apply(column, value);
		return new Cell((reference != null) ? reference : written(column, value, zone), null, changed);
	}

	private static String written(String column, String value, ZoneId zone) {
		if (value.startsWith("[")) {
			return value.replaceAll("[\\[\\]\"]", "").replace('_', ' ');
		}
		try {
			if (column.endsWith("_on") || column.equals("birth_date")) {
				return Written.day(LocalDate.parse(value));
			}
			if (column.endsWith("_at")) {
				return Written.time(OffsetDateTime.parse(value).toInstant(), zone);
			}
		}
		catch (DateTimeParseException ex) {
			// shown as it is stored
		}
		return value;
	}

}
