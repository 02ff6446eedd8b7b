package org.seriatim.followup;

/** The record has changed meanwhile, and with it the advice that was decided on. */
public class AdviceReplaced extends RuntimeException {

	public AdviceReplaced(AdviceId advice) {
		super("advice " + advice + " is not the current one");
	}

}
