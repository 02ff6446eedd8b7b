package org.seriatim.statistics;

import org.apache.commons.statistics.distribution.BetaDistribution;
import org.apache.commons.statistics.distribution.BinomialDistribution;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * Probabilities and quantiles that the kernels need. Upper tails are asked for as such,
 * never as one minus the lower tail, which loses all digits far out.
 */
final class Tails {

	private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

	private Tails() {
	}

	/**
	 * Requires a confidence strictly between 0 and 1.
	 */
	static void requireConfidence(double confidence) {
		if (!(confidence > 0 && confidence < 1)) {
			throw new IllegalArgumentException("confidence must be strictly between 0 and 1, but is " + confidence);
		}
	}

	/**
	 * Half-width of a two-sided normal interval in standard errors, 1.959963984540054 for
	 * 0.95.
	 */
	static double normalHalfWidth(double confidence) {
		requireConfidence(confidence);
		return NORMAL.inverseSurvivalProbability((1 - confidence) / 2);
	}

	static double normalBelow(double x) {
		return NORMAL.cumulativeProbability(x);
	}

	static double normalAbove(double x) {
		return NORMAL.survivalProbability(x);
	}

	static double normalQuantile(double p) {
		return NORMAL.inverseCumulativeProbability(p);
	}

	static double normalTwoSided(double z) {
		return Math.min(1, 2 * NORMAL.survivalProbability(Math.abs(z)));
	}

	static double chiSquareAbove(double x, double degrees) {
		return ChiSquaredDistribution.of(degrees).survivalProbability(x);
	}

	static double studentAbove(double t, double degrees) {
		return TDistribution.of(degrees).survivalProbability(t);
	}

	static double studentTwoSided(double t, double degrees) {
		return Math.min(1, 2 * studentAbove(Math.abs(t), degrees));
	}

	/**
	 * Above the median from the upper tail, in which 1 - p is exact: a probability near 1
	 * has no digits left for the place of a quantile far out.
	 */
	static double studentQuantile(double p, double degrees) {
		TDistribution student = TDistribution.of(degrees);
		return (p > 0.5) ? student.inverseSurvivalProbability(1 - p) : student.inverseCumulativeProbability(p);
	}

	static double studentHalfWidth(double confidence, double degrees) {
		requireConfidence(confidence);
		return TDistribution.of(degrees).inverseSurvivalProbability((1 - confidence) / 2);
	}

	/**
	 * From the smaller tail, as {@link #studentQuantile(double, double)}.
	 */
	static double betaQuantile(double p, double alpha, double beta) {
		BetaDistribution distribution = BetaDistribution.of(alpha, beta);
		return (p > 0.5) ? distribution.inverseSurvivalProbability(1 - p)
				: distribution.inverseCumulativeProbability(p);
	}

	/**
	 * The value above which lies the probability p.
	 */
	static double betaUpperQuantile(double p, double alpha, double beta) {
		BetaDistribution distribution = BetaDistribution.of(alpha, beta);
		return (p > 0.5) ? distribution.inverseCumulativeProbability(1 - p)
				: distribution.inverseSurvivalProbability(p);
	}

	/**
	 * By way of the beta quantile, which is far more exact than the library's own F
	 * quantile; where that is near 1, by way of its distance from 1, which is the
	 * quantile of the mirrored distribution.
	 */
	static double fQuantile(double p, double numerator, double denominator) {
		double b = betaQuantile(p, numerator / 2, denominator / 2);
		if (b <= 0.5) {
			return denominator * b / (numerator * (1 - b));
		}
		double rest = betaUpperQuantile(p, denominator / 2, numerator / 2);
		return denominator * (1 - rest) / (numerator * rest);
	}

	static double binomialAtMost(int k, int n, double p) {
		return BinomialDistribution.of(n, p).cumulativeProbability(k);
	}

}
