package org.seriatim.finding;

import java.util.Locale;

/**
 * When a lump began after the session that it is counted from: within 14 days, within
 * 365, or later (version 1 of the clinical basis, from memory; papers cut differently).
 */
public enum OnsetClass {

	EARLY, LATE, DELAYED;

	private static final long LAST_EARLY_DAY = 14;

	private static final long LAST_LATE_DAY = 365;

	/**
	 * @param days from the session to the onset, 0 on its day
	 * @throws IllegalArgumentException if days is negative
	 */
	public static OnsetClass of(long days) {
		if (days < 0) {
			throw new IllegalArgumentException("days must not be negative, was " + days);
		}
		if (days <= LAST_EARLY_DAY) {
			return EARLY;
		}
		return (days <= LAST_LATE_DAY) ? LATE : DELAYED;
	}

	/** The word of its text. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

}
