package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.ToDoubleFunction;

import tools.jackson.databind.JsonNode;

/**
 * Proportions, funnel limits and adjustment for several tests in the form of the
 * reference cases.
 */
final class ProportionReference {

	private ProportionReference() {
	}

	static Map<String, ReferenceMethod> methods() {
		return Map.of("proportion_ci", ProportionReference::proportion, "proportion_difference_ci",
				ProportionReference::difference, "clustered_proportion", ProportionReference::clustered,
				"rao_scott_test", ProportionReference::raoScott, "p_adjust", ProportionReference::adjust,
				"funnel_limits", ProportionReference::funnel, "funnel_overdispersion", ProportionReference::dispersion);
	}

	private static Object low(Optional<Bounds> bounds) {
		return bounds.map(Bounds::low);
	}

	private static Object high(Optional<Bounds> bounds) {
		return bounds.map(Bounds::high);
	}

	private static Object proportion(JsonNode input, JsonNode asked) {
		var result = ProportionInterval.of(ReferenceValues.whole(input, "x"), ReferenceValues.whole(input, "n"),
				ReferenceValues.confidence(input));
		return ReferenceValues.map("estimate", result.estimate(), "wilsonLower", low(result.wilson()), "wilsonUpper",
				high(result.wilson()), "clopperPearsonLower", low(result.clopperPearson()), "clopperPearsonUpper",
				high(result.clopperPearson()));
	}

	private static Object difference(JsonNode input, JsonNode asked) {
		var result = ProportionDifference.of(ReferenceValues.whole(input, "x1"), ReferenceValues.whole(input, "n1"),
				ReferenceValues.whole(input, "x2"), ReferenceValues.whole(input, "n2"),
				ReferenceValues.confidence(input));
		return ReferenceValues.map("difference", result.map(ProportionDifference::difference), "lower",
				low(result.map(ProportionDifference::limits)), "upper", high(result.map(ProportionDifference::limits)));
	}

	private static List<EventCount> counts(JsonNode input) {
		int[] x = ReferenceValues.wholes(input, "x");
		int[] n = ReferenceValues.wholes(input, "n");
		ReferenceValues.requireRows("n", n.length, x.length);
		List<EventCount> counts = new ArrayList<>();
		for (int i = 0; i < x.length; i++) {
			counts.add(new EventCount(x[i], n[i]));
		}
		return counts;
	}

	private static Object clustered(JsonNode input, JsonNode asked) {
		var result = ClusteredProportion.of(counts(input), ReferenceValues.confidence(input));
		OptionalDouble size = result.effectiveSize();
		return ReferenceValues.map("clusters", result.patients(), "events", result.events(), "total", result.total(),
				"proportion", result.proportion(), "varRatio", result.variance(), "stdErr", result.standardError(),
				"designEffect", result.designEffect(), "designEffectUsed", result.designEffectUsed(), "effectiveN",
				size, "effectiveX",
				size.isPresent() ? size.getAsDouble() * result.proportion().getAsDouble() : Optional.empty(),
				"wilsonLower", low(result.limits()), "wilsonUpper", high(result.limits()));
	}

	private static Object raoScott(JsonNode input, JsonNode asked) {
		List<EventCount> counts = counts(input);
		List<String> groups = ReferenceValues.words(input, "group", counts.size());
		List<Grouped<EventCount>> patients = new ArrayList<>();
		for (int i = 0; i < counts.size(); i++) {
			patients.add(new Grouped<>(groups.get(i), counts.get(i)));
		}
		return ReferenceValues.describe(RaoScottTest.of(patients),
				(test) -> ReferenceValues.map("groups", test.groups(), "proportion",
						test.proportions().stream().map(ClusteredProportion::proportion).toList(), "designEffect",
						test.proportions().stream().map(ClusteredProportion::designEffect).toList(), "effectiveN",
						test.effectiveSizes(), "pooledProportion", test.pooled(), "chiSquare", test.chiSquare(), "df",
						test.degreesOfFreedom(), "pValue", test.pValue()));
	}

	private static Object adjust(JsonNode input, JsonNode asked) {
		List<Double> p = Arrays.stream(ReferenceValues.doubles(input, "p")).boxed().toList();
		return Map.of("holm", MultipleTesting.HOLM.adjust(p), "benjaminiHochberg",
				MultipleTesting.BENJAMINI_HOCHBERG.adjust(p), "bonferroni", MultipleTesting.BONFERRONI.adjust(p));
	}

	private static Map<String, Object> limits(List<FunnelLimits> limits) {
		return ReferenceValues.map("lower998", each(limits, FunnelLimits::low998), "lower95",
				each(limits, FunnelLimits::low95), "upper95", each(limits, FunnelLimits::high95), "upper998",
				each(limits, FunnelLimits::high998));
	}

	private static double[] each(List<FunnelLimits> limits, ToDoubleFunction<FunnelLimits> limit) {
		return limits.stream().mapToDouble(limit).toArray();
	}

	private static Object funnel(JsonNode input, JsonNode asked) {
		double target = ReferenceValues.number(input, "target");
		return limits(Arrays.stream(ReferenceValues.wholes(input, "n"))
			.mapToObj((n) -> FunnelLimits.exact(target, n))
			.toList());
	}

	private static Object dispersion(JsonNode input, JsonNode asked) {
		double target = ReferenceValues.number(input, "target");
		return ReferenceValues.describe(
				FunnelLimits.dispersion(counts(input), target, ReferenceValues.number(input, "winsorise", 0.1)),
				(dispersion) -> ReferenceValues.map("z", dispersion.z(), "zWinsorised", dispersion.winsorised(), "phi",
						dispersion.phi(), "phiUsed", dispersion.used(), "limits",
						limits(counts(input).stream().map((unit) -> dispersion.limits(target, unit.n())).toList())));
	}

}
