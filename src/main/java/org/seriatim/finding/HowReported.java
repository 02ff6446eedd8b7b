package org.seriatim.finding;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** How a finding reached the clinic. */
public enum HowReported {

	VISIT, PHONE, LINK, PHOTOGRAPH;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database. */
	public String word() {
		return this.word;
	}

}
