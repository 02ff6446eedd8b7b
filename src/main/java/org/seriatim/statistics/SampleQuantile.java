package org.seriatim.statistics;

import java.util.Arrays;
import java.util.OptionalDouble;

/**
 * Quantile of a sample by linear interpolation between order statistics: with \( h =
 * (n-1)p + 1 \) and \( k = \lfloor h \rfloor \) the value \( x_{(k)} + (h-k) (x_{(k+1)} -
 * x_{(k)}) \); the median is the quantile at 0.5. An empty sample has none.
 * <p>
 * Source: Hyndman, Fan 1996, American Statistician 50, 361-365, type 7.
 */
public final class SampleQuantile {

	private SampleQuantile() {
	}

	/**
	 * @param sample finite values in any order; not changed
	 * @param level between 0 and 1
	 */
	public static OptionalDouble of(double[] sample, double level) {
		double[] sorted = sample.clone();
		Measured.require("sample", sorted);
		Arrays.sort(sorted);
		if (!(level >= 0 && level <= 1)) {
			throw new IllegalArgumentException("level must be between 0 and 1, but is " + level);
		}
		return (sorted.length == 0) ? OptionalDouble.empty() : OptionalDouble.of(ofSorted(sorted, level));
	}

	public static OptionalDouble median(double[] sample) {
		return of(sample, 0.5);
	}

	static double ofSorted(double[] sorted, double level) {
		double h = (sorted.length - 1) * level;
		int k = (int) Math.floor(h);
		double value = sorted[k];
		return (k + 1 < sorted.length && h > k) ? value + (h - k) * (sorted[k + 1] - value) : value;
	}

}
