package org.seriatim.treatment.domain;

import java.time.LocalDate;

/** A series cannot end on this day. */
public class SeriesEndRefused extends RuntimeException {

	private final Rule rule;

	private final LocalDate bound;

	SeriesEndRefused(Rule rule, LocalDate bound) {
		super("a series cannot end on this day: " + rule);
		this.rule = rule;
		this.bound = bound;
	}

	public Rule rule() {
		return this.rule;
	}

	/** The day that the rule compares with. */
	public LocalDate bound() {
		return this.bound;
	}

	/** Why not. */
	public enum Rule {

		IN_THE_FUTURE, BEFORE_LAST_SESSION

	}

}
