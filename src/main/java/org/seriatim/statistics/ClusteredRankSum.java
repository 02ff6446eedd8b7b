package org.seriatim.statistics;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.stream.Collectors;

/**
 * Rank-sum test of two groups of patients whose lesions nest in them.
 * <p>
 * All lesions are ranked together; \(R_i\) is the sum of the ranks of patient i, who has
 * \(s_i\) lesions. Within the stratum of patients with s lesions, \(N_s\) of them and
 * \(m_s\) in the second group, the group labels are exchangeable: W is the sum of \(R_i\)
 * over the second group, \( E = \sum_s m_s \bar R_s \), \( V = \sum_s
 * \frac{m_s(N_s-m_s)}{N_s(N_s-1)} \sum_i (R_i - \bar R_s)^2 \).
 * <ul>
 * <li>A patient with lesions in both groups: refused; use
 * {@link ClusteredProbabilisticIndex}.</li>
 * <li>No size of which both groups have patients, one group empty among them: variance 0
 * and no test.</li>
 * <li>No lesions: {@link Estimate.NotEstimable}.</li>
 * </ul>
 * <p>
 * Source: Rosner, Glynn, Lee 2003, Biometrics 59, 1089-1098.
 *
 * @param statistic W
 * @param expected E
 * @param variance V
 * @param z standardised statistic
 * @param pValue two-sided
 * @param lesions number of lesions
 * @param patients number of patients
 */
public record ClusteredRankSum(double statistic, double expected, double variance, OptionalDouble z,
		OptionalDouble pValue, int lesions, int patients) {

	private record Patient(boolean inSecondGroup, double rankSum, int lesions) {
	}

	public static Estimate<ClusteredRankSum> of(List<GroupedLesion> lesions) {
		double[] ranks = RankComparison.midRanks(lesions.stream().mapToDouble(GroupedLesion::value).toArray());
		Map<String, Patient> patients = new LinkedHashMap<>();
		for (int i = 0; i < ranks.length; i++) {
			GroupedLesion lesion = lesions.get(i);
			Patient one = new Patient(lesion.inSecondGroup(), ranks[i], 1);
			patients.merge(lesion.patient(), one, (before, more) -> {
				if (before.inSecondGroup() != more.inSecondGroup()) {
					throw new IllegalArgumentException("a patient must have lesions in one group only");
				}
				return new Patient(before.inSecondGroup(), before.rankSum() + more.rankSum(), before.lesions() + 1);
			});
		}
		if (patients.isEmpty()) {
			return Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0);
		}
		Map<Integer, List<Patient>> strata = new TreeMap<>(
				patients.values().stream().collect(Collectors.groupingBy(Patient::lesions)));
		double statistic = 0;
		double expected = 0;
		double variance = 0;
		for (List<Patient> stratum : strata.values()) {
			double size = stratum.size();
			double mean = stratum.stream().mapToDouble(Patient::rankSum).average().orElseThrow();
			double inSecond = stratum.stream().filter(Patient::inSecondGroup).count();
			statistic += stratum.stream().filter(Patient::inSecondGroup).mapToDouble(Patient::rankSum).sum();
			expected += inSecond * mean;
			if (size > 1) {
				double squares = stratum.stream()
					.mapToDouble((patient) -> (patient.rankSum() - mean) * (patient.rankSum() - mean))
					.sum();
				variance += inSecond * (size - inSecond) / (size * (size - 1)) * squares;
			}
		}
		boolean tested = variance > 1e-12;
		double z = tested ? (statistic - expected) / Math.sqrt(variance) : 0;
		return Estimate.of(new ClusteredRankSum(statistic, expected, tested ? variance : 0,
				tested ? OptionalDouble.of(z) : OptionalDouble.empty(),
				tested ? OptionalDouble.of(Tails.normalTwoSided(z)) : OptionalDouble.empty(), lesions.size(),
				patients.size()));
	}

}
