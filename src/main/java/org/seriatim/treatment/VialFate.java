package org.seriatim.treatment;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/**
 * What became of what stayed in the vial. A vial opened for one patient is never
 * continued for another.
 */
public enum VialFate {

	NOTHING_LEFT, DISCARDED, KEPT_FOR_THIS_PATIENT;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database. */
	public String word() {
		return this.word;
	}

}
