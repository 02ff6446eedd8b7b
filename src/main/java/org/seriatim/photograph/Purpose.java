package org.seriatim.photograph;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** What a patient allows photographs to be used for. */
public enum Purpose {

	/** Taken and looked at by those who treat. */
	CARE,
	/** Shown to learners within the profession. */
	TEACHING,
	/** Shown to anybody. */
	PUBLICATION;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database and in addresses. */
	public String word() {
		return this.word;
	}

}
