package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

import tools.jackson.databind.JsonNode;

/**
 * Comparison of two groups on an ordinal scale in the form of the reference cases.
 */
final class OrdinalReference {

	private OrdinalReference() {
	}

	static Map<String, ReferenceMethod> methods() {
		return Map.of("wilcoxon_probabilistic_index", OrdinalReference::ranks, "clustered_rank_sum",
				OrdinalReference::clusteredRanks, "clustered_probabilistic_index", OrdinalReference::clusteredIndex);
	}

	private static Object ranks(JsonNode input, JsonNode asked) {
		return ReferenceValues.describe(RankComparison.of(ReferenceValues.doubles(input, "x"),
				ReferenceValues.doubles(input, "y"), ReferenceValues.confidence(input)), (result) -> {
					Optional<RankComparison.Placement> placement = result.placement();
					Optional<Bounds> limits = placement.map(RankComparison.Placement::limits);
					Optional<Bounds> logit = placement.flatMap(RankComparison.Placement::logitLimits);
					return ReferenceValues.map("rankSumY", result.rankSumY(), "u", result.u(), "probabilisticIndex",
							result.probabilisticIndex(), "variance", result.variance(), "z", result.z(), "pValue",
							result.pValue(), "zCorrected", result.zCorrected(), "pValueCorrected",
							result.pValueCorrected(), "stdErr", placement.map(RankComparison.Placement::standardError),
							"bmStatistic", placement.map(RankComparison.Placement::statistic), "bmDf",
							placement.map(RankComparison.Placement::degreesOfFreedom), "bmPValue",
							placement.map(RankComparison.Placement::pValue), "lowerT", limits.map(Bounds::low),
							"upperT", limits.map(Bounds::high), "lowerLogit", logit.map(Bounds::low), "upperLogit",
							logit.map(Bounds::high));
				});
	}

	private static List<GroupedLesion> lesions(JsonNode input) {
		double[] x = ReferenceValues.doubles(input, "x");
		List<String> patients = ReferenceValues.words(input, "cluster", x.length);
		boolean[] second = ReferenceValues.flags(input, "group");
		ReferenceValues.requireRows("group", second.length, x.length);
		List<GroupedLesion> lesions = new ArrayList<>();
		for (int i = 0; i < x.length; i++) {
			lesions.add(new GroupedLesion(patients.get(i), second[i], x[i]));
		}
		return lesions;
	}

	private static Object clusteredRanks(JsonNode input, JsonNode asked) {
		return ReferenceValues.describe(ClusteredRankSum.of(lesions(input)),
				(test) -> ReferenceValues.map("w", test.statistic(), "expected", test.expected(), "variance",
						test.variance(), "z", test.z(), "pValue", test.pValue()));
	}

	private static Object clusteredIndex(JsonNode input, JsonNode asked) {
		return ReferenceValues.describe(
				ClusteredProbabilisticIndex.of(lesions(input), ReferenceValues.confidence(input)),
				(index) -> ReferenceValues.map("probabilisticIndex", index.probabilisticIndex(), "stdErr",
						index.standardError(), "lowerLogit", index.limits().map(Bounds::low), "upperLogit",
						index.limits().map(Bounds::high)));
	}

}
