package org.seriatim.patient;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.EarlierVersions.Change;
import org.seriatim.access.EarlierVersions.Correction;
import org.seriatim.access.EarlierVersions.Fate;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffMember;
import org.seriatim.shell.Written;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;

/**
 * Words the corrections of an entry of a patient's record, for the fragment
 * {@code fragments/corrections}. Rows are called by the messages {@code history.
 *
<table>
 * } (with the row's number, if it has one), columns by {@code history.
 *
<table>
 * .<column>}; days, yes and no, and members of staff are recognised, everything else is
 * worded by the caller or shown as it is.
 */
@Component
public class Corrections {

	private static final Pattern DAY = Pattern.compile("\\d{4}-\\d{2}-\\d{2}");

	private static final String UNKNOWN = "–";

	private final MessageSource messages;

	private final StaffDirectory staff;

	private final Clock clock;

	Corrections(MessageSource messages, StaffDirectory staff, Clock clock) {
		this.messages = messages;
		this.staff = staff;
		this.clock = clock;
	}

	/**
	 * How the caller writes values of a column; {@code null} for the usual way.
	 */
	@FunctionalInterface
	public interface Wording {

		@Nullable String of(String column, String value);

	}

	/** One correction as a page shows it. */
	public record WrittenCorrection(String when, String who, @Nullable String reason, List<Line> lines) {
	}

	/**
	 * One value that changed.
	 *
	 * @param what the row and the column
	 */
	public record Line(String what, String before, String after) {
	}

	/**
	 * The corrections in words.
	 * @param vocabularies the vocabulary of {@code words.properties} by column, for
	 * example {@code region} for the column {@code region}
	 * @param wording of what only the caller knows, such as the label of a scar
	 */
	public List<WrittenCorrection> written(List<Correction> corrections, Map<String, String> vocabularies,
			Wording wording, Locale locale) {
		Map<String, String> names = corrections.isEmpty() ? Map.of()
				: this.staff.all()
					.stream()
					.collect(Collectors.toMap((member) -> member.id().toString(), StaffMember::name));
		Wording words = (column, value) -> {
			var own = wording.of(column, value);
			if (own != null) {
				return own;
			}
			if (vocabularies.containsKey(column)) {
				return message(vocabularies.get(column) + "." + value, value, locale);
			}
			return names.getOrDefault(value, usual(value, locale));
		};
		return corrections.stream().map((correction) -> written(correction, names, words, locale)).toList();
	}

	private WrittenCorrection written(Correction correction, Map<String, String> names, Wording words, Locale locale) {
		var who = (correction.by() != null) ? names.getOrDefault(correction.by().toString(), UNKNOWN)
				: message("history.service", null, locale);
		return new WrittenCorrection(Written.time(correction.at(), this.clock.getZone()), who, correction.reason(),
				correction.changes().stream().flatMap((change) -> lines(change, words, locale).stream()).toList());
	}

	private List<Line> lines(Change change, Wording words, Locale locale) {
		var row = message("history." + change.table(), null, locale, change.number());
		if (change.fate() == Fate.CORRECTED) {
			return change.values()
				.stream()
				.map((value) -> new Line(
						row + message("history.separator", null, locale) + label(change, value.column(), locale),
						text(value.column(), value.before(), words), text(value.column(), value.after(), words)))
				.toList();
		}
		var added = change.fate() == Fate.ADDED;
		var whole = change.values()
			.stream()
			.map((value) -> label(change, value.column(), locale) + " "
					+ text(value.column(), added ? value.after() : value.before(), words))
			.collect(Collectors.joining(", "));
		return List.of(added ? new Line(row, message("history.added", null, locale), whole)
				: new Line(row, whole, message("history.taken-out", null, locale)));
	}

	private String label(Change change, String column, Locale locale) {
		return message("history." + change.table() + "." + column, column.replace('_', ' '), locale);
	}

	private static String text(String column, @Nullable String value, Wording words) {
		return (value != null) ? String.valueOf(words.of(column, value)) : UNKNOWN;
	}

	private String usual(String value, Locale locale) {
		if (value.equals("true") || value.equals("false")) {
			return message(value.equals("true") ? "shell.yes" : "shell.no", null, locale);
		}
		return DAY.matcher(value).matches() ? Written.day(LocalDate.parse(value)) : value;
	}

	private String message(String key, @Nullable String otherwise, Locale locale, @Nullable Object... arguments) {
		return String.valueOf(this.messages.getMessage(key, arguments, otherwise, locale));
	}

}
