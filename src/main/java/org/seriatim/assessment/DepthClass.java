package org.seriatim.assessment;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/**
 * Minimal under 0.1 mm, shallow under 0.5 mm, deep from 0.5 mm on (Jacob 2001; edges are
 * conventions).
 */
public enum DepthClass {

	MINIMAL, SHALLOW, DEEP;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
