package org.seriatim.finding;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** Who noticed a finding first. */
public enum NoticedBy {

	PATIENT, RELATIVE, PRACTITIONER, ASSISTANT, OTHER_CLINIC;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database. */
	public String word() {
		return this.word;
	}

}
