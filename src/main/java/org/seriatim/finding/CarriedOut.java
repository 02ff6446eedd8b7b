package org.seriatim.finding;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** Where something was done about a finding. */
public enum CarriedOut {

	CLINIC, HOME, ELSEWHERE;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database. */
	public String word() {
		return this.word;
	}

}
