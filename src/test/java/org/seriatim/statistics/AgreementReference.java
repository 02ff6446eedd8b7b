package org.seriatim.statistics;

import java.util.Map;
import java.util.stream.StreamSupport;

import tools.jackson.databind.JsonNode;

/**
 * Agreement of raters and trends of single scars in the form of the reference cases.
 */
final class AgreementReference {

	private AgreementReference() {
	}

	static Map<String, ReferenceMethod> methods() {
		return Map.of("kappa", AgreementReference::kappa, "icc21", AgreementReference::icc, "theil_sen",
				AgreementReference::theilSen);
	}

	private static Object kappa(JsonNode input, JsonNode asked) {
		int[][] table = ReferenceValues.elements(input, "table")
			.stream()
			.map((row) -> StreamSupport.stream(row.spliterator(), false).mapToInt(ReferenceValues::whole).toArray())
			.toArray(int[][]::new);
		double confidence = ReferenceValues.confidence(input);
		JsonNode weights = ReferenceValues.part(input, "weights");
		WeightedKappa result = weights.isArray()
				? WeightedKappa.of(table, ReferenceValues.rows(input, "weights"), confidence)
				: WeightedKappa.of(table, ReferenceValues.choice(WeightedKappa.Weights.class, weights), confidence);
		return ReferenceValues.map("n", result.n(), "observedAgreement", result.observedAgreement(),
				"expectedAgreement", result.expectedAgreement(), "kappa", result.kappa(), "stdErr",
				result.standardError(), "stdErrNull", result.standardErrorNull(), "z", result.z(), "lower",
				result.low(), "upper", result.high());
	}

	private static Object icc(JsonNode input, JsonNode asked) {
		return ReferenceValues.describe(
				IntraclassCorrelation.of(ReferenceValues.rows(input, "ratings"), ReferenceValues.confidence(input)),
				(icc) -> ReferenceValues.map("subjects", icc.subjects(), "raters", icc.raters(), "msSubjects",
						icc.meanSquareSubjects(), "msRaters", icc.meanSquareRaters(), "msError", icc.meanSquareError(),
						"icc21", icc.icc(), "lower", icc.limits().map(Bounds::low), "upper",
						icc.limits().map(Bounds::high), "dfSatterthwaite", icc.degreesOfFreedom(), "varSubjects",
						icc.varianceSubjects(), "varRaters", icc.varianceRaters(), "varError", icc.meanSquareError(),
						"semAgreement", icc.standardErrorAgreement(), "semConsistency", icc.standardErrorConsistency(),
						"sdcAgreement", icc.smallestChangeAgreement(), "sdcConsistency",
						icc.smallestChangeConsistency()));
	}

	private static Object theilSen(JsonNode input, JsonNode asked) {
		TheilSenTrend trend = TheilSenTrend.of(ReferenceValues.doubles(input, "x"), ReferenceValues.doubles(input, "y"),
				ReferenceValues.confidence(input));
		return ReferenceValues.map("pairs", trend.pairs(), "slope", trend.slope(), "intercept", trend.intercept(),
				"slopeLower", trend.limits().map(Bounds::low), "slopeUpper", trend.limits().map(Bounds::high),
				"kendallS", trend.kendallS(), "kendallVar", trend.kendallVariance(), "z", trend.z(), "pValue",
				trend.pValue(), "tauB", trend.tauB());
	}

}
