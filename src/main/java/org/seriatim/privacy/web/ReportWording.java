package org.seriatim.privacy.web;

import java.math.BigDecimal;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.privacy.domain.HeldRecord;
import org.seriatim.privacy.web.ReportPage.OpeningLine;
import org.seriatim.privacy.web.ReportPage.Section;
import org.seriatim.shell.ColumnWords;
import org.seriatim.shell.Written;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * Says what is held as the other pages say it: words of the records by their texts, days
 * and times in the clinic's form. What was typed stays as it was typed.
 */
@Component
class ReportWording {

	/** Columns whose cells hold several values of an entry, as JSON. */
	private static final String CONTENT = "content";

	private static final List<String> TYPED = List.of("note", "question", "quality_note", "camera", "reason",
			"document_reference", "closing_reason", "lift_reason", "goal", "product", "lot", "family_name",
			"given_name", "phone", "email", "description", "recipient", "reference", "exception_reason");

	/** Columns that hold several words. */
	private static final Map<String, String> LISTED = Map.of("signs", "red-flag-sign", "seriousness_criteria",
			"seriousness", "exceptions", "appointment.exception");

	private static final String NOTHING = "\u2013";

	private final MessageSource messages;

	private final JsonMapper json;

	private final Clock clock;

	ReportWording(MessageSource messages, JsonMapper json, Clock clock) {
		this.messages = messages;
		this.json = json;
		this.clock = clock;
	}

	ReportPage of(HeldRecord held) {
		return new ReportPage(held.tables().stream().map(this::section).toList(),
				held.openings().stream().map(this::opening).toList());
	}

	private Section section(HeldRecord.Table table) {
		return new Section(table.kind(), table.columns().stream().map(this::heading).toList(),
				table.rows().stream().map((row) -> line(table, row)).toList());
	}

	private List<String> line(HeldRecord.Table table, List<@Nullable Object> row) {
		var cells = new ArrayList<String>();
		var entry = table.kind();
		for (int at = 0; at < row.size(); at++) {
			var column = table.columns().get(at);
			var value = row.get(at);
			if (column.equals("entry") && value != null) {
				entry = value.toString();
			}
			cells.add(column.equals(CONTENT) && value != null ? content(entry, value.toString())
					: cell(entry, column, value));
		}
		return cells;
	}

	private OpeningLine opening(HeldRecord.Opening opening) {
		var roles = opening.roles().isEmpty() ? text("privacy.report.openings.service", "")
				: opening.roles().stream().map((role) -> text("role." + role, role)).collect(Collectors.joining(", "));
		return new OpeningLine(Written.day(opening.day()), roles,
				text("privacy.audit.action." + opening.action(), spaced(opening.action())), entry(opening.kind()),
				opening.times());
	}

	private String heading(String column) {
		return text("privacy.report.column." + column,
				text("versions.column." + column, text("versions.column." + column + "_id", spaced(column))));
	}

	private String cell(String kind, String column, @Nullable Object value) {
		if (value == null || value.equals("")) {
			return NOTHING;
		}
		if (value instanceof LocalDate day) {
			return Written.day(day);
		}
		if (value instanceof Instant time) {
			return Written.time(time, this.clock.getZone());
		}
		if (value instanceof Boolean truth) {
			return text(truth ? "shell.yes" : "shell.no", "");
		}
		var stored = (value instanceof BigDecimal number) ? number.toPlainString() : value.toString();
		return TYPED.contains(column) ? stored : worded(kind, column, stored);
	}

	private String worded(String kind, String column, String stored) {
		if (column.equals("entry")) {
			return entry(stored);
		}
		if (LISTED.containsKey(column)) {
			return Arrays.stream(stored.split(","))
				.map((word) -> text(LISTED.get(column) + "." + word, spaced(word)))
				.collect(Collectors.joining("; "));
		}
		return text(ColumnWords.key(kind, column, stored).orElse("privacy.report.word." + column + "." + stored),
				stored);
	}

	private String entry(String kind) {
		return text("versions.kind." + kind, text("privacy.report.entry." + kind, spaced(kind)));
	}

	/* What an earlier version or a draft held, value by value. */
	private String content(String kind, String content) {
		try {
			var parts = new ArrayList<String>();
			collect(kind, "", this.json.readTree(content), parts);
			return parts.isEmpty() ? NOTHING : String.join("; ", parts);
		}
		catch (JacksonException ex) {
			return content;
		}
	}

	private void collect(String kind, String column, JsonNode node, List<String> parts) {
		if (node.isObject()) {
			node.properties().forEach((property) -> collect(kind, property.getKey(), property.getValue(), parts));
		}
		else if (node.isArray()) {
			node.forEach((element) -> collect(kind, column, element, parts));
		}
		else if (!node.isNull() && !node.asString().isEmpty() && !column.equals("version")) {
			parts.add(heading(column) + ": " + cell(kind, column, read(column, node.asString())));
		}
	}

	/** The value of a text of JSON, by the name of its column. */
	private static Object read(String column, String text) {
		try {
			if (column.endsWith("_on") || column.endsWith("On") || column.equals("birth_date")) {
				return LocalDate.parse(text);
			}
			if (column.endsWith("_at")) {
				return OffsetDateTime.parse(text).toInstant();
			}
		}
		catch (DateTimeParseException ex) {
			return text;
		}
		boolean truth = text.equals("true") || text.equals("false");
		return (truth && !TYPED.contains(column)) ? Boolean.valueOf(text) : text;
	}

	private String text(String key, String otherwise) {
		var text = this.messages.getMessage(key, null, otherwise, LocaleContextHolder.getLocale());
		return (text != null) ? text : otherwise;
	}

	/** A name of the program in words: treated_on and treatedOn become treated on. */
	private static String spaced(String name) {
		return name.replace('_', ' ').replaceAll("([a-z])([A-Z])", "$1 $2").toLowerCase(Locale.ROOT);
	}

}
