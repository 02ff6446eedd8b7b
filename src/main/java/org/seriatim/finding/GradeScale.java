package org.seriatim.finding;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/**
 * The edition of the Common Terminology Criteria for Adverse Events from which a grade
 * was read: version 5.0 (2017) or 6.0 (2025). A grade is never converted from one to the
 * other.
 */
public enum GradeScale {

	CTCAE_6, CTCAE_5;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database. */
	public String word() {
		return this.word;
	}

}
