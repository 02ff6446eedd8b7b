package org.seriatim.exchange.domain;

import org.seriatim.exchange.Problem;

/** A bundle, or a file of it, that cannot even be opened. */
class UnreadableBundle extends Exception {

	/** Stands for the name of a file in problems of the bundle as a whole. */
	static final String WHOLE_BUNDLE = "bundle";

	private final Problem problem;

	UnreadableBundle(String found, String expected) {
		this(new Problem(WHOLE_BUNDLE, null, null, null, found, expected));
	}

	UnreadableBundle(Problem problem) {
		super(problem.expected());
		this.problem = problem;
	}

	Problem problem() {
		return this.problem;
	}

}
