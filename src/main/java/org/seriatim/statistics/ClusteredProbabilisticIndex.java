package org.seriatim.statistics;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Chance that a lesion of the second group has a higher value than one of the first, ties
 * counting half, with limits for lesions nested in patients; a patient may have lesions
 * in both groups.
 * <p>
 * With \(X_i, Y_i\) the sums over patient i of the placements of its lesions in the first
 * and second group, \(m_i, n_i\) their numbers, M and N the totals, \(I_{10}, I_{01}\)
 * the numbers of patients with lesions in each group and I of all: \( S_{10} =
 * \frac{I_{10}}{(I_{10}-1)M} \sum (X_i - m_i\theta)^2 \), \( S_{01} =
 * \frac{I_{01}}{(I_{01}-1)N} \sum (Y_i - n_i\theta)^2 \), \( S_{11} = \frac{I}{I-1} \sum
 * (X_i - m_i\theta)(Y_i - n_i\theta) \), and the squared standard error is \( S_{10}/M +
 * S_{01}/N + 2S_{11}/(MN) \).
 * <ul>
 * <li>Either group empty: {@link Estimate.NotEstimable}. Fewer than two patients in
 * either: the index without an error.</li>
 * <li>An index of 0 or 1: no limits.</li>
 * </ul>
 * <p>
 * Source: Obuchowski 1997, Biometrics 53, 567-578.
 *
 * @param probabilisticIndex \(\theta\)
 * @param standardError of the index
 * @param limits on the scale of the log odds
 * @param lesions number of lesions
 * @param patients number of patients
 */
public record ClusteredProbabilisticIndex(double probabilisticIndex, OptionalDouble standardError,
		Optional<Bounds> limits, int lesions, int patients) {

	private static final class Sums {

		private double x;

		private double y;

		private int m;

		private int n;

	}

	/**
	 * @param confidence strictly between 0 and 1
	 */
	public static Estimate<ClusteredProbabilisticIndex> of(List<GroupedLesion> lesions, double confidence) {
		Tails.requireConfidence(confidence);
		double[] first = lesions.stream()
			.filter((lesion) -> !lesion.inSecondGroup())
			.mapToDouble(GroupedLesion::value)
			.toArray();
		double[] second = lesions.stream()
			.filter(GroupedLesion::inSecondGroup)
			.mapToDouble(GroupedLesion::value)
			.toArray();
		if (first.length == 0 || second.length == 0) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_GROUPS, lesions.isEmpty() ? 0 : 1);
		}
		double[] ofFirst = RankComparison.placements(first, second);
		double[] ofSecond = RankComparison.placements(second, first);
		Map<String, Sums> patients = new LinkedHashMap<>();
		int i = 0;
		int j = 0;
		double theta = 0;
		for (GroupedLesion lesion : lesions) {
			Sums sums = patients.computeIfAbsent(lesion.patient(), (key) -> new Sums());
			if (lesion.inSecondGroup()) {
				sums.y += ofSecond[j];
				theta += ofSecond[j] / second.length;
				sums.n++;
				j++;
			}
			else {
				// the share of the second group above is one minus the share below
				sums.x += 1 - ofFirst[i];
				sums.m++;
				i++;
			}
		}
		OptionalDouble error = error(patients, theta, first.length, second.length);
		Optional<Bounds> limits = error.isEmpty() ? Optional.empty()
				: RankComparison.logitLimits(theta, error.getAsDouble(), confidence);
		return Estimate.of(new ClusteredProbabilisticIndex(theta, error, limits, lesions.size(), patients.size()));
	}

	private static OptionalDouble error(Map<String, Sums> patients, double theta, double m, double n) {
		double inFirst = patients.values().stream().filter((sums) -> sums.m > 0).count();
		double inSecond = patients.values().stream().filter((sums) -> sums.n > 0).count();
		if (inFirst < 2 || inSecond < 2) {
			return OptionalDouble.empty();
		}
		double s10 = 0;
		double s01 = 0;
		double s11 = 0;
		for (Sums sums : patients.values()) {
			double x = sums.x - sums.m * theta;
			double y = sums.y - sums.n * theta;
			s10 += x * x;
			s01 += y * y;
			s11 += x * y;
		}
		double all = patients.size();
		double squared = s10 * inFirst / ((inFirst - 1) * m) / m + s01 * inSecond / ((inSecond - 1) * n) / n
				+ 2 * s11 * all / (all - 1) / (m * n);
		return OptionalDouble.of(Math.sqrt(Math.max(0, squared)));
	}

}
