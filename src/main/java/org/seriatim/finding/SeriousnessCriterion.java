package org.seriatim.finding;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/**
 * What makes a finding serious (ICH E2A; the last of them from the rules on devices). Any
 * single one does; how severe it is, its grade, is another matter.
 */
public enum SeriousnessCriterion {

	DEATH, LIFE_THREATENING, HOSPITALISATION, DISABILITY, CONGENITAL_ANOMALY, MEDICALLY_IMPORTANT, INTERVENTION;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database. */
	public String word() {
		return this.word;
	}

}
