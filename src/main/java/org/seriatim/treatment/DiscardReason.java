package org.seriatim.treatment;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** Why something that was prepared was not injected. */
public enum DiscardReason {

	LEFT_IN_SYRINGE, SPILLED, NOT_NEEDED;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database. */
	public String word() {
		return this.word;
	}

}
