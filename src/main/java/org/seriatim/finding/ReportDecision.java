package org.seriatim.finding;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** Whether a finding is reported to a recipient. */
public enum ReportDecision {

	REPORT, DO_NOT_REPORT;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database. */
	public String word() {
		return this.word;
	}

}
