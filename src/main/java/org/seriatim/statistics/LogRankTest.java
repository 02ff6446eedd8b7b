package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Whether groups differ in exact and right-censored times (log-rank, and its weighted
 * versions).
 * <p>
 * At each distinct event time with d events among n at risk, \(n_g\) of them in group g,
 * and weight \( w = \hat S(t-)^\rho \) from the pooled Kaplan-Meier estimate: observed
 * \(O_g = \sum w d_g\), expected \(E_g = \sum w d n_g/n\), covariance \(V_{gh} = \sum w^2
 * d \frac{n_g}{n} (\delta_{gh} - \frac{n_h}{n}) \frac{n-d}{n-1}\); \( \chi^2 = u' V^{-1}
 * u \) with u = O - E on all but one of the groups with \(E_g > 0\).
 * <ul>
 * <li>Fewer than two groups, no event, or no group that could have differed:
 * {@link Estimate.NotEstimable}.</li>
 * <li>It takes observations as independent; for lesions nested in patients use a model
 * with a patient-clustered error.</li>
 * </ul>
 * <p>
 * Sources: Mantel 1966; Peto, Peto 1972, JRSS A 135, 185-207; Harrington, Fleming 1982,
 * Biometrika 69, 553-566.
 *
 * @param groups in the order of first appearance
 * @param observed weighted number of events in each group
 * @param expected weighted number of events expected in each group
 * @param variance covariance of the differences
 * @param chiSquare test statistic
 * @param degreesOfFreedom of the statistic
 * @param pValue two-sided
 * @param n number of observations
 */
public record LogRankTest(List<String> groups, List<Double> observed, List<Double> expected,
		List<List<Double>> variance, double chiSquare, int degreesOfFreedom, double pValue, int n) {

	/**
	 * @param observations in any order
	 * @param rho 0 for the log-rank test, 1 to give early differences more weight; finite
	 */
	public static Estimate<LogRankTest> of(List<Grouped<EventTime>> observations, double rho) {
		if (!Double.isFinite(rho)) {
			throw new IllegalArgumentException("rho must be finite, but is " + rho);
		}
		int n = observations.size();
		List<String> groups = new ArrayList<>(
				new LinkedHashSet<>(observations.stream().map(Grouped<EventTime>::group).toList()));
		if (n == 0) {
			return Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0);
		}
		if (groups.size() < 2) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_GROUPS, groups.size());
		}
		if (observations.stream().noneMatch((observation) -> observation.value().event())) {
			return Estimate.notEstimable(Estimate.Reason.NO_EVENTS, n);
		}
		int k = groups.size();
		double[] observed = new double[k];
		double[] expected = new double[k];
		double[][] variance = new double[k][k];
		accumulate(observations, groups, rho, observed, expected, variance);
		return test(groups, observed, expected, variance, n);
	}

	private static void accumulate(List<Grouped<EventTime>> observations, List<String> groups, double rho,
			double[] observed, double[] expected, double[][] variance) {
		int k = groups.size();
		List<Grouped<EventTime>> sorted = observations.stream()
			.sorted(Comparator.comparingDouble((observation) -> observation.value().time()))
			.toList();
		Map<String, Integer> numbers = new HashMap<>();
		groups.forEach((group) -> numbers.put(group, numbers.size()));
		int[] groupOf = sorted.stream().mapToInt((observation) -> numbers.get(observation.group())).toArray();
		int[] atRisk = new int[k];
		for (int g : groupOf) {
			atRisk[g]++;
		}
		double survival = 1;
		for (int i = 0; i < groupOf.length;) {
			double n = groupOf.length - i;
			double time = sorted.get(i).value().time();
			int[] leaving = new int[k];
			double weight = (rho == 0) ? 1 : Math.pow(survival, rho);
			double events = 0;
			for (; i < groupOf.length && sorted.get(i).value().time() == time; i++) {
				leaving[groupOf[i]]++;
				if (sorted.get(i).value().event()) {
					events++;
					observed[groupOf[i]] += weight;
				}
			}
			double spread = (events > 0 && n > 1) ? weight * weight * events * (n - events) / (n - 1) : 0;
			for (int g = 0; g < k && events > 0; g++) {
				double share = atRisk[g] / n;
				expected[g] += weight * events * share;
				variance[g][g] += spread * share * (n - atRisk[g]) / n;
				for (int h = 0; h < g; h++) {
					double covariance = spread * share * atRisk[h] / n;
					variance[g][h] -= covariance;
					variance[h][g] -= covariance;
				}
			}
			survival *= (n - events) / n;
			for (int g = 0; g < k; g++) {
				atRisk[g] -= leaving[g];
			}
		}
	}

	private static Estimate<LogRankTest> test(List<String> groups, double[] observed, double[] expected,
			double[][] variance, int n) {
		List<Integer> compared = new ArrayList<>();
		for (int g = 0; g < groups.size(); g++) {
			if (expected[g] > 0) {
				compared.add(g);
			}
		}
		int degrees = compared.size() - 1;
		if (degrees < 1) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_GROUPS, compared.size());
		}
		double[] u = new double[degrees];
		double[][] v = new double[degrees][degrees];
		for (int r = 0; r < degrees; r++) {
			int g = compared.get(r);
			u[r] = observed[g] - expected[g];
			for (int c = 0; c < degrees; c++) {
				v[r][c] = variance[g][compared.get(c)];
			}
		}
		Optional<double[][]> factor = SymmetricMatrix.cholesky(v);
		if (factor.isEmpty()) {
			return Estimate.notEstimable(Estimate.Reason.NO_VARIATION, n);
		}
		double chiSquare = SymmetricMatrix.dot(u, SymmetricMatrix.solve(factor.get(), u));
		List<List<Double>> covariance = new ArrayList<>();
		for (double[] row : variance) {
			covariance.add(list(row));
		}
		return Estimate.of(new LogRankTest(List.copyOf(groups), list(observed), list(expected), List.copyOf(covariance),
				chiSquare, degrees, Tails.chiSquareAbove(chiSquare, degrees), n));
	}

	private static List<Double> list(double[] values) {
		List<Double> list = new ArrayList<>(values.length);
		for (double value : values) {
			list.add(value);
		}
		return List.copyOf(list);
	}

}
