package org.seriatim.followup;

import java.util.Locale;

/** The rules of the interval advice, in the order in which they are asked. */
public enum Rule {

	HOLD, BASE, SKIN, PERSISTENT, POSSIBLY_PERSISTENT, SETTLED, STILL_THERE, UNKNOWN, PLATEAU, OPEN_SKIN;

	public static Rule of(String word) {
		return valueOf(word.toUpperCase(Locale.ROOT));
	}

	/** The word in files. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

}
