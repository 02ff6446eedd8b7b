package org.seriatim.photograph;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/**
 * How the face was lit. Depth shows in raking light only, and another light alone makes a
 * scar look better or worse; so pictures of different sets are never compared (common
 * practice, no source).
 */
public enum LightSet {

	FLAT, RAKING;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database and in addresses. */
	public String word() {
		return this.word;
	}

}
