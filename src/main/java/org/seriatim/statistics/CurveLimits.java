package org.seriatim.statistics;

import java.util.List;

/**
 * Bootstrap limits of an {@link IntervalCensoredCurve}.
 *
 * @param present limits of the share still present, one for each day asked for
 * @param medianLow lower limit of the left end of the median
 * @param medianHigh upper limit of the right end of the median;
 * {@link Double#POSITIVE_INFINITY} where it is not reached in that share of the
 * replicates
 * @param lumps number of observations
 * @param patients number of patients drawn from
 * @param dropped replicates that did not converge and were left out
 * @param plan how the replicates were made
 */
public record CurveLimits(List<PresentOn> present, double medianLow, double medianHigh, long lumps, int patients,
		int dropped, BootstrapPlan plan) {

	public CurveLimits {
		present = List.copyOf(present);
	}

	/**
	 * Limits of the share still present on one day: the lower limit is that of the lower
	 * bound of the share, the upper one that of its upper bound, so they also cover what
	 * the intervals leave open.
	 *
	 * @param day time since the start of the durations
	 * @param low lower limit, between 0 and 1
	 * @param high upper limit, between 0 and 1
	 */
	public record PresentOn(double day, double low, double high) {
	}

}
