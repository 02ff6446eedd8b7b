package org.seriatim.shell;

import java.util.Locale;

/** The sections of the navigation, in the order in which they are shown. */
public enum Section {

	FOLLOW_UP, PATIENTS, OUTCOMES, SETUP;

	/** Message key of the section's label. */
	public String label() {
		return "shell.section." + name().toLowerCase(Locale.ROOT).replace('_', '-');
	}

}
