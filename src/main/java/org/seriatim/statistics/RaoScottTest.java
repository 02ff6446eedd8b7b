package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Whether the proportions of groups made of different patients differ.
 * <p>
 * Counts are divided by the design effect of their group (not capped at 1): \( \tilde n_g
 * = N_g/d_g \), \( \tilde x_g = X_g/d_g \), \( \tilde p = \sum \tilde x / \sum \tilde n
 * \), \( X^2 = \sum (\tilde x_g - \tilde n_g \tilde p)^2 / (\tilde n_g \tilde p (1 -
 * \tilde p)) \) on one degree of freedom less than groups.
 * <ul>
 * <li>Fewer than two groups, a group with fewer than two patients, without events or with
 * only events, or without any variation between its patients:
 * {@link Estimate.NotEstimable}.</li>
 * </ul>
 * <p>
 * Source: Rao, Scott 1992, Biometrics 48, 577-585.
 *
 * @param groups in the order of first appearance
 * @param proportions of the groups
 * @param effectiveSizes \( \tilde n_g \)
 * @param pooled \( \tilde p \)
 * @param chiSquare test statistic
 * @param degreesOfFreedom of the statistic
 * @param pValue two-sided
 */
public record RaoScottTest(List<String> groups, List<ClusteredProportion> proportions, List<Double> effectiveSizes,
		double pooled, double chiSquare, int degreesOfFreedom, double pValue) {

	public static Estimate<RaoScottTest> of(List<Grouped<EventCount>> patients) {
		Map<String, List<EventCount>> byGroup = new LinkedHashMap<>();
		for (Grouped<EventCount> patient : patients) {
			byGroup.computeIfAbsent(patient.group(), (group) -> new ArrayList<>()).add(patient.value());
		}
		if (byGroup.size() < 2) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_GROUPS, byGroup.size());
		}
		List<ClusteredProportion> proportions = byGroup.values()
			.stream()
			.map((group) -> ClusteredProportion.of(group, 0.95))
			.toList();
		List<Double> sizes = new ArrayList<>();
		double events = 0;
		double size = 0;
		for (ClusteredProportion proportion : proportions) {
			if (proportion.patients() < 2) {
				return Estimate.notEstimable(Estimate.Reason.TOO_FEW_CLUSTERS, proportion.patients());
			}
			double effect = proportion.designEffect().orElse(0);
			if (!(effect > 0)) {
				return Estimate.notEstimable(Estimate.Reason.NO_VARIATION, proportion.total());
			}
			sizes.add(proportion.total() / effect);
			events += proportion.events() / effect;
			size += proportion.total() / effect;
		}
		double pooled = events / size;
		double chiSquare = 0;
		for (int g = 0; g < sizes.size(); g++) {
			double difference = proportions.get(g).proportion().orElseThrow() - pooled;
			chiSquare += sizes.get(g) * difference * difference / (pooled * (1 - pooled));
		}
		int degrees = sizes.size() - 1;
		return Estimate.of(new RaoScottTest(List.copyOf(byGroup.keySet()), proportions, List.copyOf(sizes), pooled,
				chiSquare, degrees, Tails.chiSquareAbove(chiSquare, degrees)));
	}

}
