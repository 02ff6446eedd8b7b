package org.seriatim.finding;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/**
 * Whether the treatment caused a finding, by the categories of the WHO-UMC system for
 * standardised case causality assessment. They were made for medicines: an implanted
 * material is rarely withdrawn, so CERTAIN should be rare.
 */
public enum Causality {

	CERTAIN, PROBABLE, POSSIBLE, UNLIKELY, CONDITIONAL, UNASSESSABLE;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database. */
	public String word() {
		return this.word;
	}

}
