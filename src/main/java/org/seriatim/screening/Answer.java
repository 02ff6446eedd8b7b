package org.seriatim.screening;

import java.util.Locale;

/** An answer to an item of the screening. */
public enum Answer {

	NO, YES, UNKNOWN;

	/** The word in the database. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

	public static Answer ofWord(String word) {
		return valueOf(word.toUpperCase(Locale.ROOT));
	}

}
