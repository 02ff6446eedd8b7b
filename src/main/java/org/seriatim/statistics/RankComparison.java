package org.seriatim.statistics;

import java.util.Arrays;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;

/**
 * Comparison of two groups on an ordinal scale, for independent observations: rank-sum
 * test and probabilistic index.
 * <p>
 * With mid-ranks over both groups, W the rank sum of the second and \( U = W - n(n+1)/2
 * \): \( \theta = U/(mn) = P(X < Y) + \frac12 P(X = Y) \). The test uses the variance
 * with ties, \( \frac{mn}{12}(N+1 - \sum(t^3-t)/(N(N-1))) \), with and without continuity
 * correction; the limits of \(\theta\) rest on the placements and hold when the groups
 * differ in spread.
 * <ul>
 * <li>Either group empty: {@link Estimate.NotEstimable}. Fewer than two in one, or no
 * variation of the placements: no standard error and nothing built on it.</li>
 * <li>All values tied: no test. \(\theta\) of 0 or 1: no logit limits.</li>
 * </ul>
 * For lesions nested in patients use {@link ClusteredRankSum} and
 * {@link ClusteredProbabilisticIndex}.
 * <p>
 * Sources: Wilcoxon 1945; Mann, Whitney 1947; Brunner, Munzel 2000, Biometrical Journal
 * 42, 17-25.
 *
 * @param sizeX m
 * @param sizeY n
 * @param rankSumY W
 * @param u U
 * @param probabilisticIndex \(\theta\)
 * @param variance of U under no difference
 * @param z statistic of the rank-sum test
 * @param pValue two-sided
 * @param zCorrected the same with continuity correction
 * @param pValueCorrected the same with continuity correction
 * @param placement what rests on the placements
 */
public record RankComparison(int sizeX, int sizeY, double rankSumY, double u, double probabilisticIndex,
		double variance, OptionalDouble z, OptionalDouble pValue, OptionalDouble zCorrected,
		OptionalDouble pValueCorrected, Optional<Placement> placement) {

	/**
	 * Test and limits that do not assume equal spread.
	 *
	 * @param standardError of \(\theta\)
	 * @param statistic of Brunner and Munzel
	 * @param degreesOfFreedom of the statistic
	 * @param pValue two-sided
	 * @param limits of \(\theta\) from the t distribution, within 0 and 1
	 * @param logitLimits of \(\theta\) on the scale of its log odds
	 */
	public record Placement(double standardError, double statistic, double degreesOfFreedom, double pValue,
			Bounds limits, Optional<Bounds> logitLimits) {
	}

	/**
	 * @param x first group, finite
	 * @param y second group, finite
	 * @param confidence strictly between 0 and 1
	 */
	public static Estimate<RankComparison> of(double[] x, double[] y, double confidence) {
		Tails.requireConfidence(confidence);
		Measured.require("x", x);
		Measured.require("y", y);
		int m = x.length;
		int n = y.length;
		if (m == 0 || n == 0) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_OBSERVATIONS, m + n);
		}
		double[] below = placements(y, x);
		double u = Arrays.stream(below).sum() * m;
		double theta = u / ((double) m * n);
		double all = m + n;
		double[] pooled = Arrays.copyOf(x, m + n);
		System.arraycopy(y, 0, pooled, m, n);
		double variance = (all < 2) ? 0 : (double) m * n / 12 * (all + 1 - tieSum(pooled) / (all * (all - 1)));
		double distance = u - (double) m * n / 2;
		boolean tested = variance > 1e-12 * m * n;
		double z = tested ? distance / Math.sqrt(variance) : 0;
		double corrected = tested ? Math.signum(distance) * Math.max(0, Math.abs(distance) - 0.5) / Math.sqrt(variance)
				: 0;
		return Estimate.of(new RankComparison(m, n, u + n * (n + 1.0) / 2, u, theta, tested ? variance : 0,
				when(tested, z), when(tested, Tails.normalTwoSided(z)), when(tested, corrected),
				when(tested, Tails.normalTwoSided(corrected)), placement(x, y, theta, below, confidence)));
	}

	private static OptionalDouble when(boolean exists, double value) {
		return exists ? OptionalDouble.of(value) : OptionalDouble.empty();
	}

	private static Optional<Placement> placement(double[] x, double[] y, double theta, double[] below,
			double confidence) {
		int m = x.length;
		int n = y.length;
		if (m < 2 || n < 2) {
			return Optional.empty();
		}
		double[] above = Arrays.stream(placements(x, y)).map((share) -> 1 - share).toArray();
		double s10 = variance(above) / m;
		double s01 = variance(below) / n;
		double error = Math.sqrt(s10 + s01);
		if (!(error > 1e-12)) {
			return Optional.empty();
		}
		double statistic = (theta - 0.5) / error;
		double degrees = Math.pow(error, 4) / (s10 * s10 / (m - 1) + s01 * s01 / (n - 1));
		double half = Tails.studentHalfWidth(confidence, degrees) * error;
		Bounds limits = new Bounds(Math.max(0, theta - half), Math.min(1, theta + half));
		return Optional.of(new Placement(error, statistic, degrees, Tails.studentTwoSided(statistic, degrees), limits,
				logitLimits(theta, error, confidence)));
	}

	/**
	 * Limits of a probability on the scale of its log odds; empty at 0 and 1.
	 */
	static Optional<Bounds> logitLimits(double theta, double error, double confidence) {
		if (!(theta > 0 && theta < 1) || !(error > 0)) {
			return Optional.empty();
		}
		double half = Tails.normalHalfWidth(confidence) * error / (theta * (1 - theta));
		double logit = Math.log(theta / (1 - theta));
		return Optional.of(new Bounds(1 / (1 + Math.exp(half - logit)), 1 / (1 + Math.exp(-half - logit))));
	}

	/**
	 * For each value the share of the others below it, ties counting half.
	 */
	static double[] placements(double[] values, double[] others) {
		double[] sorted = others.clone();
		Arrays.sort(sorted);
		return Arrays.stream(values)
			.map((value) -> (firstAtLeast(sorted, value) + firstAbove(sorted, value)) / (2.0 * sorted.length))
			.toArray();
	}

	private static int firstAtLeast(double[] sorted, double value) {
		int low = 0;
		int high = sorted.length;
		while (low < high) {
			int middle = (low + high) >>> 1;
			if (sorted[middle] < value) {
				low = middle + 1;
			}
			else {
				high = middle;
			}
		}
		return low;
	}

	private static int firstAbove(double[] sorted, double value) {
		int low = 0;
		int high = sorted.length;
		while (low < high) {
			int middle = (low + high) >>> 1;
			if (sorted[middle] <= value) {
				low = middle + 1;
			}
			else {
				high = middle;
			}
		}
		return low;
	}

	/**
	 * Mid-ranks from 1.
	 */
	static double[] midRanks(double[] values) {
		double[] sorted = values.clone();
		Arrays.sort(sorted);
		return Arrays.stream(values)
			.map((value) -> (firstAtLeast(sorted, value) + firstAbove(sorted, value) + 1) / 2.0)
			.toArray();
	}

	private static double tieSum(double[] values) {
		Map<Double, Integer> sizes = new TreeMap<>();
		for (double value : values) {
			sizes.merge(value + 0.0, 1, Integer::sum);
		}
		return sizes.values().stream().mapToDouble((t) -> (double) t * t * t - t).sum();
	}

	private static double variance(double[] values) {
		double mean = Arrays.stream(values).average().orElseThrow();
		return Arrays.stream(values).map((value) -> (value - mean) * (value - mean)).sum() / (values.length - 1);
	}

}
