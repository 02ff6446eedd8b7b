package org.seriatim.treatment;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** What an injection was for. */
public enum Target {

	PORES, SCAR;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
