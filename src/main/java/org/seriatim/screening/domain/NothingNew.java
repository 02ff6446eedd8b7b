package org.seriatim.screening.domain;

/** Nothing differs from the version of the list that is in force. */
public class NothingNew extends RuntimeException {

	NothingNew() {
		super("nothing differs from the version in force");
	}

}
