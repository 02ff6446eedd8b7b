package org.seriatim.statistics;

/**
 * Time until an event, or until the observation ended without it.
 *
 * @param time finite, at least 0
 * @param event whether the event came then; otherwise it had not come by then (right
 * censored)
 */
public record EventTime(double time, boolean event) {

	public EventTime {
		if (!(time >= 0) || Double.isInfinite(time)) {
			throw new IllegalArgumentException("time must be finite and at least 0, but is " + time);
		}
		time = time + 0.0;
	}

}
