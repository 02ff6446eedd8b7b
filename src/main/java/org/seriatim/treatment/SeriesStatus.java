package org.seriatim.treatment;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** An ended series gets no treatment advice, only its outcome visit. */
public enum SeriesStatus {

	OPEN, COMPLETED, STOPPED;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
