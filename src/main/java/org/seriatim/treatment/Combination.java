package org.seriatim.treatment;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** Radiofrequency microneedling in the same session, before or after the injections. */
public enum Combination {

	NONE, RF_BEFORE, RF_AFTER;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
