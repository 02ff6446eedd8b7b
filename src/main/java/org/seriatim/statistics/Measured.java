package org.seriatim.statistics;

/**
 * Numbers that can have been measured: finite, and small enough that sums of their
 * squares do not overflow.
 */
final class Measured {

	private static final double LARGEST = 1e100;

	private Measured() {
	}

	static void require(String name, double value) {
		if (!(Math.abs(value) <= LARGEST)) {
			throw new IllegalArgumentException(
					name + " must be finite and at most " + LARGEST + " in size, but one is " + value);
		}
	}

	static void require(String name, double[] values) {
		for (double value : values) {
			require(name, value);
		}
	}

}
