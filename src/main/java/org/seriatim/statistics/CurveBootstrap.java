package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;

/**
 * Pointwise percentile limits of an {@link IntervalCensoredCurve} from resampled
 * patients. Each replicate is a full estimate with its own innermost intervals and its
 * own certificate; only sorting and merging of the observations is done once.
 * <ul>
 * <li>Fewer than two patients: {@link Estimate.NotEstimable}.</li>
 * <li>Replicates without a certificate are dropped and counted; more than 5 percent of
 * them, or too few replicates for the confidence: {@link Estimate.NotEstimable}.</li>
 * </ul>
 *
 * @see PatientBootstrap
 */
public final class CurveBootstrap {

	private CurveBootstrap() {
	}

	/**
	 * @param patients each with a distinct identifier; the order does not matter
	 * @param days days for which limits of the share still present are wanted, each at
	 * least 0
	 * @param plan seed, number of replicates, confidence
	 */
	public static Estimate<CurveLimits> limits(List<PatientDurations> patients, List<Double> days, BootstrapPlan plan) {
		double[] times = requireTimes(days);
		List<PatientDurations> sorted = sortedByIdentifier(patients);
		if (sorted.size() < 2) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_CLUSTERS, sorted.size());
		}
		List<DurationInterval> all = sorted.stream().flatMap((patient) -> patient.durations().stream()).toList();
		IntervalTable table = IntervalTable.of(all);
		int[] start = new int[sorted.size() + 1];
		for (int g = 0; g < sorted.size(); g++) {
			start[g + 1] = start[g] + sorted.get(g).durations().size();
		}
		int[] row = IntStream.range(0, all.size()).map(table::rowOf).toArray();
		int[] count = all.stream().mapToInt(DurationInterval::count).toArray();
		// columns: low and high share for each day, then left and right end of the median
		double[][] values = new double[2 * times.length + 2][plan.replicates()];
		boolean[] converged = new boolean[plan.replicates()];
		int chunks = Math.min(plan.replicates(), 8 * Runtime.getRuntime().availableProcessors());
		IntStream.range(0, chunks).parallel().forEach((chunk) -> {
			NonparametricMaximum maximum = new NonparametricMaximum(table);
			double[] weight = new double[table.rows()];
			int[] timesDrawn = new int[sorted.size()];
			for (int replicate = chunk; replicate < plan.replicates(); replicate += chunks) {
				new PatientDraws(plan.seed(), replicate).draw(timesDrawn);
				Arrays.fill(weight, 0);
				for (int g = 0; g < timesDrawn.length; g++) {
					if (timesDrawn[g] > 0) {
						for (int i = start[g]; i < start[g + 1]; i++) {
							weight[row[i]] += (double) timesDrawn[g] * count[i];
						}
					}
				}
				converged[replicate] = maximum.maximise(weight);
				if (converged[replicate]) {
					read(maximum, times, values, replicate);
				}
			}
		});
		return summarise(values, converged, days, table.total(), sorted.size(), plan);
	}

	private static void read(NonparametricMaximum maximum, double[] times, double[][] values, int replicate) {
		List<Mass> masses = new ArrayList<>();
		for (int j = 0; j < maximum.cells(); j++) {
			if (maximum.mass(j) > IntervalCensoredCurve.NO_MASS) {
				masses.add(new Mass(maximum.left(j), maximum.right(j), Math.min(1, maximum.mass(j))));
			}
		}
		CurveMasses curve = new CurveMasses(masses.size(), masses);
		for (int k = 0; k < times.length; k++) {
			Bounds share = curve.stillPresent(times[k]);
			values[2 * k][replicate] = share.low();
			values[2 * k + 1][replicate] = share.high();
		}
		Bounds median = curve.median();
		values[2 * times.length][replicate] = median.low();
		values[2 * times.length + 1][replicate] = median.high();
	}

	private static Estimate<CurveLimits> summarise(double[][] values, boolean[] converged, List<Double> days,
			long lumps, int patients, BootstrapPlan plan) {
		int[] kept = IntStream.range(0, converged.length).filter((replicate) -> converged[replicate]).toArray();
		int dropped = converged.length - kept.length;
		var ranks = PercentileLimits.ranks(kept.length, plan.confidence());
		if (dropped > PatientBootstrap.MOST_DROPPED * converged.length || ranks.isEmpty()) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_REPLICATES, kept.length);
		}
		double[] limits = new double[values.length];
		for (int column = 0; column < values.length; column++) {
			double[] replicates = values[column];
			double[] sorted = IntStream.of(kept).mapToDouble((replicate) -> replicates[replicate]).sorted().toArray();
			int rank = (column % 2 == 0) ? ranks.get().lower() : ranks.get().upper();
			limits[column] = sorted[rank - 1];
		}
		List<CurveLimits.PresentOn> present = new ArrayList<>();
		for (int k = 0; k < days.size(); k++) {
			present.add(new CurveLimits.PresentOn(days.get(k), limits[2 * k], limits[2 * k + 1]));
		}
		return Estimate.of(new CurveLimits(present, limits[limits.length - 2], limits[limits.length - 1], lumps,
				patients, dropped, plan));
	}

	private static double[] requireTimes(List<Double> days) {
		double[] times = days.stream().mapToDouble(Double::doubleValue).toArray();
		for (double time : times) {
			if (!(time >= 0)) {
				throw new IllegalArgumentException("days must be at least 0, but one is " + time);
			}
		}
		return times;
	}

	private static List<PatientDurations> sortedByIdentifier(List<PatientDurations> patients) {
		Set<String> identifiers = new HashSet<>();
		for (PatientDurations patient : patients) {
			if (!identifiers.add(patient.patient())) {
				throw new IllegalArgumentException("patients must have distinct identifiers");
			}
		}
		return patients.stream().sorted(Comparator.comparing(PatientDurations::patient)).toList();
	}

}
