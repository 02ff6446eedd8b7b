package org.seriatim.finding;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/**
 * What was done about a finding, by its class. A medicine is a class too: the record asks
 * for no dose and proposes none.
 */
public enum ActionClass {

	WATCHED, MASSAGE, COMPRESSION, WARMTH, COLD, ASPIRATION, ENZYME_INJECTION, STEROID_INJECTION, DEVICE, BIOPSY,
	EXCISION, MEDICINE, REFERRAL, HOSPITAL, OTHER;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database. */
	public String word() {
		return this.word;
	}

}
