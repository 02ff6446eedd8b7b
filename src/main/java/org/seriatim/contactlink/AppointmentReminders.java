package org.seriatim.contactlink;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/** What the outbox asks of the module that knows appointments. */
public interface AppointmentReminders {

	/**
	 * Lets wait what is due now, and takes out what waits and is not to go any more.
	 */
	void bringUpToDate();

	/**
	 * What a reminder says.
	 * @param appointment its id
	 * @param starts the time that it is to name
	 * @return empty if it is not to go any more: moved, cancelled, nearly over, on hold,
	 * or turned off
	 */
	Optional<MailText> textOf(UUID appointment, Instant starts);

}
