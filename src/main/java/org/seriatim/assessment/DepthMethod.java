package org.seriatim.assessment;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** How a depth was obtained; depths are compared only within one method. */
public enum DepthMethod {

	ESTIMATED, GAUGE, ULTRASOUND, IMAGING_3D, OTHER;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
