package org.seriatim.followup;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** What a booked time is for. */
public enum AppointmentPurpose {

	TREATMENT, REVIEW, ASSESSMENT, OUTCOME;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
