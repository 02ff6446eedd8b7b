package org.seriatim.patient;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** Sebum class of the skin profile. */
public enum Sebum {

	DRY, NORMAL, COMBINATION, OILY;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
