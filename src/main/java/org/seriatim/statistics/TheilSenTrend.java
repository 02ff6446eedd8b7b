package org.seriatim.statistics;

import java.util.Arrays;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;

/**
 * Slope of a trend that a few wild values do not move (Theil-Sen), and the test whether
 * there is a trend at all (Mann-Kendall, corrected for ties in both variables).
 * <p>
 * The slope is the median of the slopes of all N pairs with different x; the intercept is
 * median(y) - slope median(x). S is the number of pairs that rise minus that of pairs
 * that fall, \( z = \mathrm{sgn}(S) \max(|S|-1, 0)/\sqrt V \). With \( C = z_c \sqrt V \)
 * and \( k = \lfloor (N-C)/2 \rfloor \) the limits are the k-th smallest and the k-th
 * largest slope (rounded down, which is conservative).
 * <ul>
 * <li>No pair with different x: no slope. k below 1: no limits (always so for three
 * points at 95 percent).</li>
 * <li>All y equal: slope 0, and no test.</li>
 * <li>Points count as independent: use it within one scar, and a model with patients
 * across patients.</li>
 * </ul>
 * <p>
 * Sources: Theil 1950; Sen 1968, JASA 63, 1379-1389; Mann 1945; Kendall 1975; Gilbert
 * 1987, Statistical Methods for Environmental Pollution Monitoring.
 *
 * @param n number of points
 * @param pairs number of pairs with different x
 * @param slope change of y per unit of x
 * @param intercept y at x = 0
 * @param limits of the slope
 * @param kendallS S
 * @param kendallVariance V; empty where no slope exists
 * @param z statistic of the Mann-Kendall test
 * @param pValue two-sided
 * @param tauB Kendall's tau-b
 */
public record TheilSenTrend(int n, long pairs, OptionalDouble slope, OptionalDouble intercept, Optional<Bounds> limits,
		long kendallS, OptionalDouble kendallVariance, OptionalDouble z, OptionalDouble pValue, OptionalDouble tauB) {

	/**
	 * All pairs are looked at, so this bounds memory.
	 */
	private static final int MOST_POINTS = 5_000;

	/**
	 * @param x finite, and no two so close together that a slope overflows
	 * @param y finite, as many as x, at most 5,000
	 * @param confidence strictly between 0 and 1
	 */
	public static TheilSenTrend of(double[] x, double[] y, double confidence) {
		double half = Tails.normalHalfWidth(confidence);
		requirePoints(x, y);
		int n = x.length;
		double[] slopes = new double[n * (n - 1) / 2];
		int pairs = 0;
		long s = 0;
		for (int i = 0; i < n; i++) {
			for (int j = i + 1; j < n; j++) {
				if (x[i] != x[j]) {
					slopes[pairs++] = (y[j] - y[i]) / (x[j] - x[i]);
					s += (long) (Math.signum(x[j] - x[i]) * Math.signum(y[j] - y[i]));
				}
			}
		}
		if (pairs == 0) {
			return new TheilSenTrend(n, 0, OptionalDouble.empty(), OptionalDouble.empty(), Optional.empty(), s,
					OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty());
		}
		slopes = (pairs < slopes.length) ? Arrays.copyOf(slopes, pairs) : slopes;
		Arrays.sort(slopes);
		if (Double.isInfinite(slopes[0]) || Double.isInfinite(slopes[pairs - 1])) {
			throw new IllegalArgumentException("x must not lie so close together that a slope is beyond all numbers");
		}
		double slope = SampleQuantile.ofSorted(slopes, 0.5);
		double intercept = SampleQuantile.median(y).orElseThrow() - slope * SampleQuantile.median(x).orElseThrow();
		Ties inX = Ties.of(x);
		Ties inY = Ties.of(y);
		// with one value of y only it is 0, which the sums of fractions below may just
		// miss
		double variance = inY.isOne() ? 0 : variance(n, inX, inY);
		double all = n * (n - 1.0) / 2;
		double tauDenominator = Math.sqrt((all - inX.pairs / 2) * (all - inY.pairs / 2));
		OptionalDouble tau = (tauDenominator > 0) ? OptionalDouble.of(s / tauDenominator) : OptionalDouble.empty();
		if (!(variance > 0)) {
			return new TheilSenTrend(n, pairs, OptionalDouble.of(slope), OptionalDouble.of(intercept), Optional.empty(),
					s, OptionalDouble.of(0), OptionalDouble.empty(), OptionalDouble.empty(), tau);
		}
		double z = Math.signum(s) * Math.max(Math.abs(s) - 1, 0) / Math.sqrt(variance);
		// the addition guards against a difference that just misses a whole number
		int k = (int) Math.floor((pairs - half * Math.sqrt(variance)) / 2 + 1e-12);
		Optional<Bounds> limits = (k < 1) ? Optional.empty()
				: Optional.of(new Bounds(slopes[k - 1], slopes[pairs - k]));
		return new TheilSenTrend(n, pairs, OptionalDouble.of(slope), OptionalDouble.of(intercept), limits, s,
				OptionalDouble.of(variance), OptionalDouble.of(z), OptionalDouble.of(Tails.normalTwoSided(z)), tau);
	}

	private static double variance(double n, Ties x, Ties y) {
		double variance = (n * (n - 1) * (2 * n + 5) - x.weighted - y.weighted) / 18
				+ x.pairs * y.pairs / (2 * n * (n - 1));
		return (n > 2) ? variance + x.triples * y.triples / (9 * n * (n - 1) * (n - 2)) : variance;
	}

	private static void requirePoints(double[] x, double[] y) {
		if (x.length != y.length) {
			throw new IllegalArgumentException(
					"x and y must be of one length, but have " + x.length + " and " + y.length);
		}
		if (x.length > MOST_POINTS) {
			throw new IllegalArgumentException("points must be at most " + MOST_POINTS + ", but are " + x.length);
		}
		Measured.require("x", x);
		Measured.require("y", y);
	}

	/**
	 * Sums over groups of equal values of size t: t(t-1), t(t-1)(t-2), t(t-1)(2t+5); and
	 * whether there is one group only.
	 */
	private record Ties(double pairs, double triples, double weighted, boolean isOne) {

		static Ties of(double[] values) {
			Map<Double, Integer> sizes = new TreeMap<>();
			for (double value : values) {
				sizes.merge(value + 0.0, 1, Integer::sum);
			}
			double pairs = 0;
			double triples = 0;
			double weighted = 0;
			for (double t : sizes.values()) {
				pairs += t * (t - 1);
				triples += t * (t - 1) * (t - 2);
				weighted += t * (t - 1) * (2 * t + 5);
			}
			return new Ties(pairs, triples, weighted, sizes.size() == 1);
		}

	}

}
