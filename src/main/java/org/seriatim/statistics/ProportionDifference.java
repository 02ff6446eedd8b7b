package org.seriatim.statistics;

import java.util.Optional;

/**
 * Difference of two independent proportions with limits from the Wilson limits of each.
 * <p>
 * With limits \((l_1, u_1)\), \((l_2, u_2)\) and \( d = p_1 - p_2 \): \( d -
 * \sqrt{(p_1-l_1)^2 + (u_2-p_2)^2} \) to \( d + \sqrt{(u_1-p_1)^2 + (p_2-l_2)^2} \),
 * within -1 and 1. Empty when either group is. Not valid for lesions of the same
 * patients.
 * <p>
 * Source: Newcombe 1998, Statistics in Medicine 17, 873-890, method 10.
 *
 * @param first the first proportion
 * @param second the second proportion
 * @param difference first minus second
 * @param limits of the difference
 */
public record ProportionDifference(ProportionInterval first, ProportionInterval second, double difference,
		Bounds limits) {

	public static Optional<ProportionDifference> of(int events1, int n1, int events2, int n2, double confidence) {
		ProportionInterval first = ProportionInterval.of(events1, n1, confidence);
		ProportionInterval second = ProportionInterval.of(events2, n2, confidence);
		if (first.wilson().isEmpty() || second.wilson().isEmpty()) {
			return Optional.empty();
		}
		double p1 = first.estimate().orElseThrow();
		double p2 = second.estimate().orElseThrow();
		Bounds one = first.wilson().get();
		Bounds two = second.wilson().get();
		double d = p1 - p2;
		double low = d - Math.hypot(p1 - one.low(), two.high() - p2);
		double high = d + Math.hypot(one.high() - p1, p2 - two.low());
		return Optional
			.of(new ProportionDifference(first, second, d, new Bounds(Math.max(-1, low), Math.min(1, high))));
	}

}
