package org.seriatim.appointment.domain;

import java.util.Locale;

/** What has to be done about a patient today. */
public enum DayKind {

	/** A treatment is booked that the advice does not support. */
	UNSUPPORTED,
	/** The patient is to be asked. */
	CONTACT,
	/** The next treatment is to be booked within its window. */
	BOOKING,
	/** The window has passed, and nothing is booked. */
	OVERDUE,
	/** A practitioner has to decide first. */
	PRACTITIONER,
	/** The patient did not come. */
	MISSED,
	/** The outcome of an ended series is to be looked at. */
	OUTCOME;

	/** The word in addresses and messages. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

}
