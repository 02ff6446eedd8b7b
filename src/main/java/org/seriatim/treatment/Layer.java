package org.seriatim.treatment;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/**
 * Where it was placed. Below the dermis is recorded as it happened and never suggested.
 */
public enum Layer {

	SUPERFICIAL_DERMIS, MID_DERMIS, DEEP_DERMIS, BELOW_DERMIS;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
