package org.seriatim.appointment.domain;

import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;

/**
 * A time that the clinic's clocks show, as a moment. Where the clocks are changed, a time
 * comes twice or not at all: the first of two is meant, and one that is skipped counts by
 * the offset before the change, so that 02:30 is 03:30 by the new time (RFC 5545, section
 * 3.3.5).
 *
 * @param change what the clocks do to it
 */
public record ClockTime(Instant moment, Change change) {

	/** What a change of the clocks does to a time. */
	public enum Change {

		/** The time comes once. */
		NONE,
		/** There is no such time on that day. */
		SKIPPED,
		/** The time comes twice on that day. */
		TWICE

	}

	public static ClockTime of(LocalDateTime shown, ZoneId clinic) {
		var change = switch (clinic.getRules().getValidOffsets(shown).size()) {
			case 0 -> Change.SKIPPED;
			case 1 -> Change.NONE;
			default -> Change.TWICE;
		};
		return new ClockTime(shown.atZone(clinic).toInstant(), change);
	}

}
