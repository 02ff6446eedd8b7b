package org.seriatim.finding;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/**
 * How a finding ended, or how it stands, in one word. It closes nothing: only a
 * practitioner's closing does.
 */
public enum FindingCourse {

	OPEN, IMPROVING, RESOLVED, RESOLVED_WITH_SEQUELAE, ONGOING_AT_LAST_CONTACT, LOST_TO_FOLLOW_UP, FATAL;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database. */
	public String word() {
		return this.word;
	}

}
