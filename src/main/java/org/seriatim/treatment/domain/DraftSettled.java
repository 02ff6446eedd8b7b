package org.seriatim.treatment.domain;

/** The draft has been recorded or discarded already. */
public class DraftSettled extends RuntimeException {

	DraftSettled() {
		super("the draft is settled");
	}

}
