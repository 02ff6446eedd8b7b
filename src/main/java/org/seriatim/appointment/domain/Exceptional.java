package org.seriatim.appointment.domain;

import java.util.Locale;

/** Why a booking needs a reason. */
public enum Exceptional {

	/** The advice asks for a contact first, so its window is provisional. */
	CONTACT_FIRST(true),
	/** Before the first day of the window that holds. */
	BEFORE_WINDOW(true),
	/** After its last day. */
	AFTER_WINDOW(true),
	/** On a day on which the clinic is closed. */
	CLINIC_CLOSED(false),
	/** On a day on which the practitioner is away. */
	PRACTITIONER_AWAY(false),
	/** Beyond the practitioner's working hours. */
	OUTSIDE_HOURS(false);

	private final boolean forPractitioners;

	Exceptional(boolean forPractitioners) {
		this.forPractitioners = forPractitioners;
	}

	/** Whether only a practitioner or the clinic lead may give the reason. */
	public boolean isForPractitioners() {
		return this.forPractitioners;
	}

	/** The word in the database. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

}
