package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * Whether groups differ in interval-censored durations: scores from the pooled
 * {@link IntervalCensoredCurve}, compared with their permutation variance.
 * <p>
 * With support masses \(p_j\) and \(S_j = 1 - (p_1 + \dots + p_j)\) each support interval
 * has a score (see {@link Scores}); an observation's score is the p-weighted mean over
 * the support intervals inside it. With \(\bar c\) the mean and \(SS = \sum (c_i - \bar
 * c)^2\): \( \chi^2 = \frac{n-1}{SS} \sum_g n_g (\bar c_g - \bar c)^2 \).
 * <ul>
 * <li>Fewer than two groups or observations, or all scores equal:
 * {@link Estimate.NotEstimable}.</li>
 * <li>The permutation form assumes that contact schedules do not differ between the
 * groups, and takes observations as independent: say so beside the p value.</li>
 * </ul>
 * <p>
 * Sources: Finkelstein 1986, Biometrics 42, 845-854; Sun 1996, Statistics in Medicine 15,
 * 1387-1395; Fay, Shaw 2010, Journal of Statistical Software 36(2).
 *
 * @param groups in the order of first appearance
 * @param n number of observations in each group
 * @param score sum of the scores in each group; positive means shorter than expected
 * @param scoreVector score of each observation in the order given
 * @param chiSquare test statistic
 * @param degreesOfFreedom of the statistic
 * @param pValue two-sided
 * @param z signed statistic of the first group where there are two
 */
public record IntervalScoreTest(List<String> groups, List<Long> n, List<Double> score, List<Double> scoreVector,
		double chiSquare, int degreesOfFreedom, double pValue, OptionalDouble z) {

	/**
	 * Masses up to this carry no score.
	 */
	private static final double NO_MASS = 1e-9;

	/**
	 * What a difference is most sensitive to.
	 */
	public enum Scores {

		/** Log-rank: proportional hazards on a discrete time scale. */
		SUN,
		/** Log-rank: proportional hazards on a continuous time scale. */
		FINKELSTEIN,
		/** Wilcoxon: more weight on early differences. */
		WILCOXON;

		double of(double mass, double before, double after, double hazardBefore, double hazardAfter) {
			return switch (this) {
				case SUN -> (before * hazardBefore - after * hazardAfter) / mass;
				case FINKELSTEIN -> (timesLog(before) - timesLog(after)) / mass;
				case WILCOXON -> before + after - 1;
			};
		}

		private static double timesLog(double x) {
			return (x > 0) ? x * Math.log(x) : 0;
		}

	}

	/**
	 * @param observations in any order
	 */
	public static Estimate<IntervalScoreTest> of(List<Grouped<DurationInterval>> observations, Scores scores) {
		List<String> groups = List
			.copyOf(new LinkedHashSet<>(observations.stream().map(Grouped<DurationInterval>::group).toList()));
		long total = observations.stream().mapToLong((observation) -> observation.value().count()).sum();
		if (observations.isEmpty()) {
			return Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0);
		}
		if (groups.size() < 2) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_GROUPS, groups.size());
		}
		IntervalTable table = IntervalTable.of(observations.stream().map(Grouped<DurationInterval>::value).toList());
		NonparametricMaximum maximum = new NonparametricMaximum(table);
		if (!maximum.maximise(table.weights())) {
			return new Estimate.NotConverged<>(maximum.excess(), maximum.rounds());
		}
		double[] score = scoreOfRows(maximum, table, scores);
		double[] each = new double[observations.size()];
		for (int i = 0; i < each.length; i++) {
			each[i] = score[table.rowOf(i)];
		}
		return test(observations, groups, each, total);
	}

	private static double[] scoreOfRows(NonparametricMaximum maximum, IntervalTable table, Scores scores) {
		int cells = maximum.cells();
		double sum = 0;
		for (int j = 0; j < cells; j++) {
			sum += (maximum.mass(j) > NO_MASS) ? maximum.mass(j) : 0;
		}
		int last = cells - 1;
		while (!(maximum.mass(last) > NO_MASS)) {
			last--;
		}
		// cumulated over the cells: mass, and mass times score
		double[] mass = new double[cells + 1];
		double[] weighted = new double[cells + 1];
		double before = 1;
		double hazard = 0;
		for (int j = 0; j < cells; j++) {
			mass[j + 1] = mass[j];
			weighted[j + 1] = weighted[j];
			if (maximum.mass(j) > NO_MASS) {
				double p = maximum.mass(j) / sum;
				double after = (j == last) ? 0 : 1 - (mass[j] + p);
				double hazardAfter = hazard - p / before;
				mass[j + 1] += p;
				weighted[j + 1] += p * scores.of(p, before, after, hazard, hazardAfter);
				before = after;
				hazard = hazardAfter;
			}
		}
		double[] score = new double[table.rows()];
		for (int r = 0; r < score.length; r++) {
			int from = maximum.firstCell(r);
			int to = maximum.lastCell(r) + 1;
			score[r] = (weighted[to] - weighted[from]) / (mass[to] - mass[from]);
		}
		return score;
	}

	private static Estimate<IntervalScoreTest> test(List<Grouped<DurationInterval>> observations, List<String> groups,
			double[] each, long total) {
		int k = groups.size();
		Map<String, Integer> numbers = new HashMap<>();
		groups.forEach((group) -> numbers.put(group, numbers.size()));
		double[] sum = new double[k];
		long[] n = new long[k];
		double all = 0;
		List<Double> vector = new ArrayList<>();
		for (int i = 0; i < each.length; i++) {
			int g = numbers.get(observations.get(i).group());
			int count = observations.get(i).value().count();
			sum[g] += count * each[i];
			n[g] += count;
			all += count * each[i];
			vector.add(each[i]);
		}
		double mean = all / total;
		double squares = 0;
		for (int i = 0; i < each.length; i++) {
			squares += observations.get(i).value().count() * (each[i] - mean) * (each[i] - mean);
		}
		// scores are of order 1, so this is rounding
		if (total < 2 || !(squares > 1e-18 * total)) {
			return Estimate.notEstimable(Estimate.Reason.NO_VARIATION, total);
		}
		double between = 0;
		List<Long> counts = new ArrayList<>();
		List<Double> score = new ArrayList<>();
		for (int g = 0; g < k; g++) {
			double difference = sum[g] / n[g] - mean;
			between += n[g] * difference * difference;
			counts.add(n[g]);
			score.add(sum[g]);
		}
		double chiSquare = (total - 1) / squares * between;
		OptionalDouble z = (k != 2) ? OptionalDouble.empty() : OptionalDouble
			.of((sum[0] - n[0] * mean) / Math.sqrt((double) n[0] * n[1] / ((double) total * (total - 1)) * squares));
		return Estimate.of(new IntervalScoreTest(groups, List.copyOf(counts), List.copyOf(score), List.copyOf(vector),
				chiSquare, k - 1, Tails.chiSquareAbove(chiSquare, k - 1), z));
	}

}
