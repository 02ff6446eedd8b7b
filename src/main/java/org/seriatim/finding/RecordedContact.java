package org.seriatim.finding;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SessionId;

/**
 * A contact, or the attempt at one, after a session, as it is on record.
 *
 * @param lumpsPresent what was said about lumps, if asked
 * @param painNrs 0 to 10
 */
public record RecordedContact(ContactId id, PatientId patient, SessionId session, LocalDate contactedOn,
		Channel channel, ContactOutcome outcome, @Nullable Boolean lumpsPresent, @Nullable Integer painNrs,
		@Nullable String note) {

	/** As far as advice looks at it. */
	public ContactFacts facts() {
		return new ContactFacts(this.session, this.contactedOn, this.outcome, this.lumpsPresent);
	}

}
