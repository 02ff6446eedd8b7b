package org.seriatim.access;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/**
 * What a person may do; one account may hold several. An assistant writes drafts only.
 */
public enum Role {

	FRONT_DESK, ASSISTANT, PRACTITIONER, CLINIC_LEAD, ADMINISTRATOR;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
