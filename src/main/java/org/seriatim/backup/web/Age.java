package org.seriatim.backup.web;

import java.time.Duration;

/**
 * How long ago something was, in the one unit that matters.
 *
 * @param unit {@code minutes}, {@code hours} or {@code days}
 */
record Age(String unit, long count) {

	private static final long HOURS_UP_TO = 48;

	static Age of(Duration age) {
		if (age.toHours() >= HOURS_UP_TO) {
			return new Age("days", age.toDays());
		}
		return (age.toHours() >= 1) ? new Age("hours", age.toHours())
				: new Age("minutes", Math.max(0, age.toMinutes()));
	}

}
