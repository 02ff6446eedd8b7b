package org.seriatim.statistics;

/**
 * Answer to the question by which day something that was present on an earlier day has
 * gone with a stated probability.
 */
public sealed interface DayGone {

	/**
	 * It has gone with at least that probability by this day, and by no earlier one.
	 */
	record Reached(int day) implements DayGone {
	}

	/**
	 * The curve has no mass beyond the day on which it was present, so it cannot tell.
	 */
	record NoMassBeyond() implements DayGone {
	}

	/**
	 * The probability is not reached on any day up to the limit.
	 */
	record NeverReaches() implements DayGone {
	}

}
