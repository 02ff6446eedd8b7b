package org.seriatim.followup;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/**
 * What an advice asks for first; an earlier constant takes precedence over a later one.
 */
public enum AdviceStatus {

	/** No treatment before a practitioner has closed a finding. */
	HOLD,
	/** Ask the patient first; the window is provisional. */
	WAIT_FOR_CONTACT,
	/** A further session of the same kind is not shown to help. */
	REVIEW_PLAN,
	/** Nothing stands against a session in the window. */
	WINDOW;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database; files use the name. */
	public String word() {
		return this.word;
	}

}
