package org.seriatim.followup;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** Booked and arrived hold their time; the others do not. */
public enum AppointmentStatus {

	BOOKED, ARRIVED, COMPLETED, CANCELLED, NO_SHOW;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
