package org.seriatim.finding;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** The side of a finding; left and right are the patient's. */
public enum FindingSide {

	RIGHT, MIDDLE, LEFT;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database. */
	public String word() {
		return this.word;
	}

}
