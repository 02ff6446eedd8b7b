package org.seriatim.statistics;

/**
 * A number of which the data tell only that it lies between two others; both equal where
 * it is unique.
 *
 * @param low smallest value that agrees with the data
 * @param high largest value that agrees with the data; may be
 * {@link Double#POSITIVE_INFINITY} where that is said
 */
public record Bounds(double low, double high) {

	public Bounds {
		if (!(low <= high)) {
			throw new IllegalArgumentException("low must be at most high, but they are " + low + " and " + high);
		}
	}

	public boolean isUnique() {
		return this.low == this.high;
	}

}
