package org.seriatim.statistics;

/**
 * Two ratings of one scar on one day.
 *
 * @param patient opaque identifier of the patient
 * @param first in the unit of the scale, above 0
 * @param second in the unit of the scale, above 0
 */
public record RatingPair(String patient, double first, double second) {

	public RatingPair {
		requireMeasurable("first", first);
		requireMeasurable("second", second);
	}

	private static void requireMeasurable(String name, double value) {
		if (!(value > 0) || Double.isInfinite(value)) {
			throw new IllegalArgumentException(name + " must be finite and above 0, but is " + value);
		}
	}

}
