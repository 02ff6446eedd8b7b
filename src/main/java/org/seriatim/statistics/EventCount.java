package org.seriatim.statistics;

/**
 * How many of one patient's lesions or sessions had an event.
 *
 * @param events between 0 and n
 * @param n at least 1
 */
public record EventCount(int events, int n) {

	public EventCount {
		if (!(n >= 1 && events >= 0 && events <= n)) {
			throw new IllegalArgumentException(
					"n must be at least 1, events between 0 and n, but they are " + n + " and " + events);
		}
	}

}
