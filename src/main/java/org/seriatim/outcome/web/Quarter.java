package org.seriatim.outcome.web;

import java.time.LocalDate;
import java.time.temporal.IsoFields;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.IntStream;

/** A quarter of a year as an address names it: 2026-Q4. */
record Quarter(int year, int number) {

	private static final Pattern WRITTEN = Pattern.compile("((?:19|20|21)\\d{2})-Q([1-4])");

	/** So many are offered. */
	private static final int OFFERED = 12;

	static Optional<Quarter> of(String written) {
		var matched = WRITTEN.matcher(written);
		return matched.matches()
				? Optional.of(new Quarter(Integer.parseInt(matched.group(1)), Integer.parseInt(matched.group(2))))
				: Optional.empty();
	}

	/** The quarter that a day lies in. */
	static Quarter with(LocalDate day) {
		return new Quarter(day.getYear(), day.get(IsoFields.QUARTER_OF_YEAR));
	}

	/** The running one and those before it, the latest first. */
	static List<Quarter> upTo(LocalDate today) {
		return IntStream.range(0, OFFERED).mapToObj((back) -> with(today.minusMonths(3L * back))).toList();
	}

	LocalDate first() {
		return LocalDate.of(this.year, 3 * this.number - 2, 1);
	}

	LocalDate last() {
		return first().plusMonths(3).minusDays(1);
	}

	@Override
	public String toString() {
		return this.year + "-Q" + this.number;
	}

}
