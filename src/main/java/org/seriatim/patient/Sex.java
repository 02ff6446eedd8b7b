package org.seriatim.patient;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** As the patient gives it; unknown is no value. */
public enum Sex {

	FEMALE, MALE, OTHER;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
