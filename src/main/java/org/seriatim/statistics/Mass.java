package org.seriatim.statistics;

/**
 * Probability that an estimate of a distribution puts somewhere into <em>(left,
 * right]</em>, or onto one point when both are equal. Where inside, the data do not say.
 *
 * @param left in the unit of the durations, at least 0
 * @param right at least {@code left}; {@link Double#POSITIVE_INFINITY} for the mass that
 * was never seen to end
 * @param mass between 0 and 1
 */
public record Mass(double left, double right, double mass) {

	public Mass {
		if (!(left >= 0) || Double.isInfinite(left)) {
			throw new IllegalArgumentException("left must be finite and at least 0, but is " + left);
		}
		if (!(right >= left)) {
			throw new IllegalArgumentException("right must be at least left (" + left + "), but is " + right);
		}
		if (!(mass >= 0 && mass <= 1)) {
			throw new IllegalArgumentException("mass must be between 0 and 1, but is " + mass);
		}
	}

}
