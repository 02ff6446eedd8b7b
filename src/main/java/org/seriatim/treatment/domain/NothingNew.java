package org.seriatim.treatment.domain;

/** What was to be published is what is in force already. */
public class NothingNew extends RuntimeException {

	NothingNew() {
		super("nothing differs from the version in force");
	}

}
