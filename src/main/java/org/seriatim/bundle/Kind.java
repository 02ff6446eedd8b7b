package org.seriatim.bundle;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.time.format.DateTimeFormatterBuilder;
import java.time.format.DateTimeParseException;
import java.time.format.ResolverStyle;
import java.time.temporal.ChronoField;
import java.util.Arrays;
import java.util.List;
import java.util.function.Function;
import java.util.regex.Pattern;

import org.jspecify.annotations.Nullable;

/**
 * What a cell may hold. A kind reads the text of a cell into a value, writes a value back
 * as text, and says in plain words what it expects. An empty cell is no value, whatever
 * its kind, and never reaches a kind.
 */
public sealed interface Kind {

	/**
	 * The value of the text, or nothing when the text is not of this kind.
	 */
	@Nullable Object read(String text);

	/** The canonical text of a value that {@link #read} gave. */
	String write(Object value);

	/** What is expected, to follow the word "expected" in a sentence. */
	String expected();

	/**
	 * Text in one line, without space at its ends, so that two keys that look alike are
	 * alike.
	 */
	static Kind label() {
		return new Text(200, true);
	}

	/** A short text, taken as it is. */
	static Kind text() {
		return new Text(200, false);
	}

	/** Free text; may have several lines. */
	static Kind prose() {
		return new Text(10_000, false);
	}

	/**
	 * The name of a member of staff; who has none yet becomes staff without a sign-in.
	 */
	static Kind staff() {
		return new Staff();
	}

	/** A word of a vocabulary that is open, such as the name of a scale. */
	static Kind term() {
		return new Term();
	}

	/** A whole number within both limits. */
	static Kind whole(int least, int most) {
		return new Whole(least, most);
	}

	/** A number from the least (inclusive) on. */
	static Kind atLeast(String least) {
		return new Decimal(new BigDecimal(least), false, null);
	}

	/** A number within both limits, both inclusive. */
	static Kind between(String least, String most) {
		return new Decimal(new BigDecimal(least), false, new BigDecimal(most));
	}

	/** A number above 0. */
	static Kind positive() {
		return new Decimal(BigDecimal.ZERO, true, null);
	}

	/** A number above 0 and at most the given one. */
	static Kind positiveUpTo(String most) {
		return new Decimal(BigDecimal.ZERO, true, new BigDecimal(most));
	}

	/** Any number. */
	static Kind number() {
		return new Decimal(null, false, null);
	}

	/** A calendar day. */
	static Kind day() {
		return new Day();
	}

	/** A point in time, written with an offset from UTC that is kept. */
	static Kind moment() {
		return new Moment();
	}

	/** Yes or no. */
	static Kind yesNo() {
		return new YesNo();
	}

	/** One of the words. */
	static Kind word(List<String> words) {
		return new Word(words);
	}

	/** The word of one of the values. */
	static <E> Kind word(E[] values, Function<E, String> word) {
		return new Word(Arrays.stream(values).map(word).toList());
	}

	/** Text of bounded length. */
	record Text(int longest, boolean oneLine) implements Kind {

		@Override
		public @Nullable Object read(String text) {
			boolean fits = text.length() <= this.longest && text.indexOf('\0') < 0;
			return (fits && (!this.oneLine || isOneTrimmedLine(text))) ? text : null;
		}

		@Override
		public String write(Object value) {
			return (String) value;
		}

		@Override
		public String expected() {
			return this.oneLine
					? "text in one line of at most %d characters, without space at its ends".formatted(this.longest)
					: "text of at most %d characters".formatted(this.longest);
		}

	}

	/** The name of a member of staff. */
	record Staff() implements Kind {

		private static final Text NAME = new Text(200, true);

		@Override
		public @Nullable Object read(String text) {
			return NAME.read(text);
		}

		@Override
		public String write(Object value) {
			return (String) value;
		}

		@Override
		public String expected() {
			return "the name of a member of staff, " + NAME.expected();
		}

	}

	/** A word in lower case. */
	record Term() implements Kind {

		private static final Pattern FORM = Pattern.compile("[a-z0-9_-]{1,60}");

		@Override
		public @Nullable Object read(String text) {
			return FORM.matcher(text).matches() ? text : null;
		}

		@Override
		public String write(Object value) {
			return (String) value;
		}

		@Override
		public String expected() {
			return "a word of lower-case letters, digits, - and _";
		}

	}

	/** A whole number. */
	record Whole(int least, int most) implements Kind {

		private static final Pattern FORM = Pattern.compile("-?\\d{1,9}");

		@Override
		public @Nullable Object read(String text) {
			if (!FORM.matcher(text).matches()) {
				return null;
			}
			int value = Integer.parseInt(text);
			return (value >= this.least && value <= this.most) ? value : null;
		}

		@Override
		public String write(Object value) {
			return value.toString();
		}

		@Override
		public String expected() {
			if (this.least == this.most) {
				return "the whole number " + this.least;
			}
			return (this.most == Integer.MAX_VALUE) ? "a whole number, %d or more".formatted(this.least)
					: "a whole number from %d to %d".formatted(this.least, this.most);
		}

	}

	/**
	 * A number with a decimal point; keeps the digits that were given, 0.220 as 0.220.
	 */
	record Decimal(@Nullable BigDecimal least, boolean above, @Nullable BigDecimal most) implements Kind {

		private static final Pattern FORM = Pattern.compile("-?\\d{1,12}(\\.\\d{1,12})?");

		@Override
		public @Nullable Object read(String text) {
			if (!FORM.matcher(text).matches()) {
				return null;
			}
			BigDecimal value = new BigDecimal(text);
			return (reachesLeast(value) && (this.most == null || value.compareTo(this.most) <= 0)) ? value : null;
		}

		private boolean reachesLeast(BigDecimal value) {
			return this.least == null || value.compareTo(this.least) >= (this.above ? 1 : 0);
		}

		@Override
		public String write(Object value) {
			return ((BigDecimal) value).toPlainString();
		}

		@Override
		public String expected() {
			String form = "a number with a decimal point";
			if (this.least == null) {
				return form;
			}
			String from = (this.above ? ", above " : ", at least ") + this.least;
			return form + from + ((this.most == null) ? "" : " and at most " + this.most);
		}

	}

	/** A day of the calendar. */
	record Day() implements Kind {

		private static final DateTimeFormatter FORM = new DateTimeFormatterBuilder().appendValue(ChronoField.YEAR, 4)
			.appendLiteral('-')
			.appendValue(ChronoField.MONTH_OF_YEAR, 2)
			.appendLiteral('-')
			.appendValue(ChronoField.DAY_OF_MONTH, 2)
			.toFormatter()
			.withResolverStyle(ResolverStyle.STRICT);

		@Override
		public @Nullable Object read(String text) {
			try {
				LocalDate day = LocalDate.parse(text, FORM);
				return isPlausible(day.getYear()) ? day : null;
			}
			catch (DateTimeParseException ex) {
				return null;
			}
		}

		@Override
		public String write(Object value) {
			return value.toString();
		}

		@Override
		public String expected() {
			return "a day of the years 1900 to 2199, such as 2026-03-31";
		}

	}

	/** A point in time with its offset. */
	record Moment() implements Kind {

		private static final DateTimeFormatter FORM = new DateTimeFormatterBuilder().append(Day.FORM)
			.appendLiteral('T')
			.appendValue(ChronoField.HOUR_OF_DAY, 2)
			.appendLiteral(':')
			.appendValue(ChronoField.MINUTE_OF_HOUR, 2)
			.optionalStart()
			.appendLiteral(':')
			.appendValue(ChronoField.SECOND_OF_MINUTE, 2)
			.optionalStart()
			// as fine as the database keeps it
			.appendFraction(ChronoField.NANO_OF_SECOND, 1, 6, true)
			.optionalEnd()
			.optionalEnd()
			.appendOffset("+HH:MM", "Z")
			.toFormatter()
			.withResolverStyle(ResolverStyle.STRICT);

		private static final DateTimeFormatter CANONICAL = new DateTimeFormatterBuilder()
			.append(DateTimeFormatter.ISO_LOCAL_DATE)
			.appendLiteral('T')
			.appendPattern("HH:mm:ss")
			.appendFraction(ChronoField.NANO_OF_SECOND, 0, 6, true)
			.appendOffset("+HH:MM", "Z")
			.toFormatter();

		@Override
		public @Nullable Object read(String text) {
			try {
				OffsetDateTime moment = OffsetDateTime.parse(text, FORM);
				return isPlausible(moment.getYear()) ? moment : null;
			}
			catch (DateTimeParseException ex) {
				return null;
			}
		}

		@Override
		public String write(Object value) {
			return CANONICAL.format((OffsetDateTime) value);
		}

		@Override
		public String expected() {
			return "a time with its offset from UTC, such as 2026-03-31T09:30:00+02:00";
		}

		/** The offset that is kept beside the point in time, in minutes. */
		public static int offsetMinutes(OffsetDateTime moment) {
			return moment.getOffset().getTotalSeconds() / 60;
		}

		/** The moment as it was written, from the point in time and the offset. */
		public static OffsetDateTime of(OffsetDateTime instant, int offsetMinutes) {
			return instant.withOffsetSameInstant(ZoneOffset.ofTotalSeconds(offsetMinutes * 60));
		}

	}

	/** Yes or no. */
	record YesNo() implements Kind {

		@Override
		public @Nullable Object read(String text) {
			return switch (text) {
				case "yes" -> Boolean.TRUE;
				case "no" -> Boolean.FALSE;
				default -> null;
			};
		}

		@Override
		public String write(Object value) {
			return ((Boolean) value) ? "yes" : "no";
		}

		@Override
		public String expected() {
			return "yes or no";
		}

	}

	/** One of a closed list of words. */
	record Word(List<String> words) implements Kind {

		public Word {
			words = List.copyOf(words);
		}

		@Override
		public @Nullable Object read(String text) {
			int at = this.words.indexOf(text);
			return (at < 0) ? null : this.words.get(at);
		}

		@Override
		public String write(Object value) {
			return (String) value;
		}

		@Override
		public String expected() {
			return "one of " + String.join(", ", this.words);
		}

	}

	private static boolean isPlausible(int year) {
		return year >= 1900 && year < 2200;
	}

	private static boolean isOneTrimmedLine(String text) {
		return text.equals(text.strip()) && text.chars().noneMatch(Character::isISOControl);
	}

}
