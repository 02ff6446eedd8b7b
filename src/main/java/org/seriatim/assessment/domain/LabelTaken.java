package org.seriatim.assessment.domain;

/** Another scar of the patient is followed under this label. */
public class LabelTaken extends RuntimeException {

	LabelTaken() {
		super("the label is taken");
	}

}
