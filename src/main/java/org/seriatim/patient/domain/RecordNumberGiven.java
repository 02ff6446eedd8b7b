package org.seriatim.patient.domain;

/**
 * The record number belongs, or once belonged, to somebody else. It is never given again.
 */
public class RecordNumberGiven extends RuntimeException {

	RecordNumberGiven() {
		super("the record number was given before");
	}

}
