package org.seriatim.patient;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** Thickness class as judged by a clinician, never computed from sex or phototype. */
public enum SkinThickness {

	THIN, MEDIUM, THICK;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
