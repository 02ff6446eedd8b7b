package org.seriatim.finding;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.treatment.SessionId;

/**
 * A contact, or the attempt at one, after a session.
 *
 * @param lumpsPresent what the patient said about lumps, if asked
 */
public record ContactFacts(SessionId session, LocalDate contactedOn, ContactOutcome outcome,
		@Nullable Boolean lumpsPresent) {

	public boolean hasReached() {
		return this.outcome == ContactOutcome.REACHED;
	}

	public boolean reportsLump() {
		return Boolean.TRUE.equals(this.lumpsPresent);
	}

}
