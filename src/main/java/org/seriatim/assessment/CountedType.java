package org.seriatim.assessment;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/**
 * What is counted by region: the types of tracked scars, and superficial elastolysis,
 * which is counted for the ECCA score only.
 */
public enum CountedType {

	ICE_PICK, BOXCAR, ROLLING, ELASTOLYSIS, HYPERTROPHIC, KELOID, LINEAR, FOLD, MACULAR, UNCLASSIFIED;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
