package org.seriatim.statistics;

import java.util.Optional;

/**
 * Percentile limits of a bootstrap.
 * <p>
 * With B replicates and \( k = \lfloor (B+1)(1-c)/2 \rfloor \) the limits are the k-th
 * and the (B+1-k)-th smallest replicate, without interpolation. No limits when k is 0.
 * <p>
 * Source: Davison, Hinkley 1997, Bootstrap Methods and their Application, section 5.2.
 *
 * @param low lower limit
 * @param high upper limit; {@link Double#POSITIVE_INFINITY} where a quantile is not
 * reached in that share of the replicates
 * @param estimate the statistic on the data themselves
 * @param standardDeviation of the replicates; infinite when one of them is
 * @param replicates that had a value
 * @param dropped replicates without a value
 * @param patients number of patients drawn from
 * @param plan how the replicates were made
 */
public record PercentileLimits(double low, double high, double estimate, double standardDeviation, int replicates,
		int dropped, int patients, BootstrapPlan plan) {

	/**
	 * Ranks of the limits among the sorted replicates, from 1.
	 */
	public record Ranks(int lower, int upper) {
	}

	/**
	 * The ranks that limit the given share of the replicates; empty when there are too
	 * few of them.
	 */
	public static Optional<Ranks> ranks(int replicates, double confidence) {
		if (replicates < 0) {
			throw new IllegalArgumentException("replicates must be at least 0, but is " + replicates);
		}
		if (!(confidence > 0 && confidence < 1)) {
			throw new IllegalArgumentException("confidence must be strictly between 0 and 1, but is " + confidence);
		}
		// the addition guards against (B+1)(1-c)/2 just missing a whole number
		int k = (int) Math.floor((replicates + 1.0) * (1 - confidence) / 2 + 1e-9);
		return (k == 0) ? Optional.empty() : Optional.of(new Ranks(k, replicates + 1 - k));
	}

}
