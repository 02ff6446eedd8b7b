package org.seriatim.statistics;

import java.util.Arrays;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.IntStream;

/**
 * Percentile limits of any statistic of lesions nested in patients, by drawing whole
 * patients: G out of G with replacement, a patient's lesions never split.
 * <ul>
 * <li>Fewer than two patients: {@link Estimate.NotEstimable}.</li>
 * <li>Replicates without a value are dropped and counted; more than 5 percent of them:
 * {@link Estimate.NotEstimable}.</li>
 * <li>A statistic that is infinite because it is not reached counts as such: it sorts
 * last.</li>
 * </ul>
 * <p>
 * Sources: Davison, Hinkley 1997, Bootstrap Methods and their Application, chapter 2 and
 * 3.8; Field, Welsh 2007, JRSS B 69, 369-390.
 */
public final class PatientBootstrap {

	/**
	 * More than this share of replicates without a value: no limits.
	 */
	static final double MOST_DROPPED = 0.05;

	private PatientBootstrap() {
	}

	/**
	 * @param patients number of patients, in an order that does not depend on how the
	 * data were supplied (sorted by identifier)
	 * @param statistic value on the data in which patient g occurs as often as element g
	 * says; empty when undefined. It may be called from several threads.
	 */
	public static Estimate<PercentileLimits> limits(int patients, Function<int[], OptionalDouble> statistic,
			BootstrapPlan plan) {
		if (patients < 0) {
			throw new IllegalArgumentException("patients must be at least 0, but is " + patients);
		}
		if (patients < 2) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_CLUSTERS, patients);
		}
		int[] once = new int[patients];
		Arrays.fill(once, 1);
		OptionalDouble estimate = statistic.apply(once);
		if (estimate.isEmpty()) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_OBSERVATIONS, patients);
		}
		double[] values = IntStream.range(0, plan.replicates()).parallel().mapToObj((replicate) -> {
			int[] timesDrawn = new int[patients];
			new PatientDraws(plan.seed(), replicate).draw(timesDrawn);
			return statistic.apply(timesDrawn);
		}).flatMapToDouble(OptionalDouble::stream).filter((value) -> !Double.isNaN(value)).toArray();
		int dropped = plan.replicates() - values.length;
		var ranks = PercentileLimits.ranks(values.length, plan.confidence());
		if (dropped > MOST_DROPPED * plan.replicates() || ranks.isEmpty()) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_REPLICATES, values.length);
		}
		Arrays.sort(values);
		return Estimate.of(new PercentileLimits(values[ranks.get().lower() - 1], values[ranks.get().upper() - 1],
				estimate.getAsDouble(), standardDeviation(values), values.length, dropped, patients, plan));
	}

	private static double standardDeviation(double[] values) {
		if (Double.isInfinite(values[values.length - 1]) || Double.isInfinite(values[0])) {
			return Double.POSITIVE_INFINITY;
		}
		double mean = Arrays.stream(values).average().orElse(0);
		double squares = Arrays.stream(values).map((value) -> (value - mean) * (value - mean)).sum();
		return Math.sqrt(squares / Math.max(1, values.length - 1));
	}

}
