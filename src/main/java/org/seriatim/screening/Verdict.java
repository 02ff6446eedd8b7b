package org.seriatim.screening;

import java.util.Locale;

/** What a licensed clinician decides on an item that is not cleared. */
public enum Verdict {

	/** The session may take place, for a reason. */
	MAY_TREAT,
	/** It may not, for a reason. */
	NOT_TODAY,
	/** A caution was seen. */
	ACKNOWLEDGED;

	/** The word in the database. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

	public static Verdict ofWord(String word) {
		return valueOf(word.toUpperCase(Locale.ROOT));
	}

}
