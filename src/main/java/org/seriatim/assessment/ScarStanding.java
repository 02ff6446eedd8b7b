package org.seriatim.assessment;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** What became of a tracked scar at a visit. None of these is a measurement of zero. */
public enum ScarStanding {

	/** Looked at; also of one that had been left out and is followed again. */
	ASSESSED,
	/** Nobody looked at it. */
	NOT_ASSESSED,
	/** Looked for and not found, which is not the same as gone. */
	NOT_FOUND,
	/** It has grown together with another one. */
	MERGED,
	/** It has become several. */
	SPLIT,
	/** Followed no longer, for a reason. */
	EXCLUDED,
	/** Seen to be gone: nothing is left of its depth. */
	RESOLVED;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** Whether it is left out of later stages. */
	public boolean leaves() {
		return this == MERGED || this == SPLIT || this == EXCLUDED;
	}

	/** Whether it is followed again, if it had been left out. */
	boolean returns() {
		return this == ASSESSED || this == RESOLVED;
	}

	/** The word in the database. */
	public String word() {
		return this.word;
	}

}
