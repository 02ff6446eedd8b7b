package org.seriatim.privacy.domain;

/** The record is on hold and is not erased. */
public class OnHold extends RuntimeException {

	OnHold() {
		super("the record is on hold");
	}

}
