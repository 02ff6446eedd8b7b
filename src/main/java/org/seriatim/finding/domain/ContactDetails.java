package org.seriatim.finding.domain;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.Channel;
import org.seriatim.finding.ContactOutcome;

/**
 * A contact, or the attempt at one.
 *
 * @param lumpsPresent what was said about lumps, if asked
 * @param painNrs 0 to 10
 */
public record ContactDetails(LocalDate contactedOn, Channel channel, ContactOutcome outcome,
		@Nullable Boolean lumpsPresent, @Nullable Integer painNrs, @Nullable String note) {

	boolean hasAnswers() {
		return this.lumpsPresent != null || this.painNrs != null;
	}

}
