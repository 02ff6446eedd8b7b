package org.seriatim.statistics;

/**
 * A lesion's value in one of two groups.
 *
 * @param patient opaque identifier
 * @param inSecondGroup which group
 * @param value finite, on an ordinal scale
 */
public record GroupedLesion(String patient, boolean inSecondGroup, double value) {

	public GroupedLesion {
		Measured.require("value", value);
	}

}
