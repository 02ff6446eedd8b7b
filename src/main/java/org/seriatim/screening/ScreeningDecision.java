package org.seriatim.screening;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;

/**
 * A decision on an item of one day.
 *
 * @param about the answer that it was made on: yes or unknown
 * @param reason none needed where a caution is acknowledged
 */
public record ScreeningDecision(UUID id, AskedItem item, LocalDate decidedOn, Answer about, Verdict verdict,
		@Nullable String reason, StaffId decidedBy, Instant decidedAt, Long version) {

	/** Prints no content of the record. */
	@Override
	public String toString() {
		return "Decision " + this.id;
	}

}
