package org.seriatim.record.web;

import java.time.LocalDate;
import java.time.YearMonth;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * Days as shares of the width of a drawing. A day stands at its beginning.
 *
 * @param from the day at the left edge
 * @param to the day at the right edge, later than {@code from}
 */
record TimeScale(LocalDate from, LocalDate to) {

	private static final int MOST_MONTHS = 12;

	private static final DateTimeFormatter MONTH = DateTimeFormatter.ofPattern("MMM", Locale.ENGLISH);

	private static final DateTimeFormatter YEAR = DateTimeFormatter.ofPattern("MMM uuuu", Locale.ENGLISH);

	TimeScale {
		if (!to.isAfter(from)) {
			throw new IllegalArgumentException("a scale ends after it begins, but not from " + from + " to " + to);
		}
	}

	/**
	 * The first day of a month.
	 *
	 * @param at its place
	 * @param text its name, with the year for the first one of a year
	 */
	record Month(String at, String text) {
	}

	/** The place of a day, in percent of the width; days outside stand at the edge. */
	double share(LocalDate day) {
		var share = 100.0 * ChronoUnit.DAYS.between(this.from, day) / ChronoUnit.DAYS.between(this.from, this.to);
		return Math.max(0, Math.min(100, share));
	}

	String at(LocalDate day) {
		return percent(share(day));
	}

	String between(LocalDate first, LocalDate last) {
		return percent(share(last) - share(first));
	}

	boolean contains(LocalDate day) {
		return !day.isBefore(this.from) && !day.isAfter(this.to);
	}

	static String percent(double share) {
		return String.format(Locale.ROOT, "%.3f%%", share);
	}

	/**
	 * The months that begin within the scale; of many only every second, third, sixth.
	 */
	List<Month> months() {
		var first = YearMonth.from(this.from);
		if (this.from.getDayOfMonth() > 1) {
			first = first.plusMonths(1);
		}
		var all = ChronoUnit.MONTHS.between(first, YearMonth.from(this.to)) + 1;
		var step = List.of(1, 2, 3, 6, 12)
			.stream()
			.filter((months) -> all <= (long) MOST_MONTHS * months)
			.findFirst()
			.orElse(24);
		var months = new ArrayList<Month>();
		for (var month = first; !month.atDay(1).isAfter(this.to); month = month.plusMonths(1)) {
			if ((month.getMonthValue() - 1) % Math.min(step, 12) == 0 && (step <= 12 || month.getYear() % 2 == 0)) {
				var isFirstOfYear = months.isEmpty() || month.getMonthValue() <= step;
				months.add(new Month(at(month.atDay(1)), (isFirstOfYear ? YEAR : MONTH).format(month.atDay(1))));
			}
		}
		return months;
	}

}
