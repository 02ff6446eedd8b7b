package org.seriatim.statistics;

import java.util.Arrays;
import java.util.List;
import java.util.Map;

import tools.jackson.databind.JsonNode;

/**
 * Cumulative sum charts and distribution functions in the form of the reference cases.
 */
final class MonitoringReference {

	private MonitoringReference() {
	}

	static Map<String, ReferenceMethod> methods() {
		return Map.of("cusum_weights", MonitoringReference::weights, "cusum_path", MonitoringReference::path,
				"cusum_arl", MonitoringReference::runLengths, "cusum_threshold", MonitoringReference::threshold,
				"distribution", MonitoringReference::distribution);
	}

	private static double value(JsonNode input, String name) {
		return ReferenceValues.number(input, name);
	}

	private static Object weights(JsonNode input, JsonNode asked) {
		List<BernoulliCusum.Weight> weights = Arrays.stream(ReferenceValues.doubles(input, "p"))
			.mapToObj((p) -> BernoulliCusum.Weight.of(p, value(input, "oddsRatio")))
			.toList();
		return Map.of("event", weights.stream().map(BernoulliCusum.Weight::event).toList(), "noEvent",
				weights.stream().map(BernoulliCusum.Weight::noEvent).toList());
	}

	private static Object path(JsonNode input, JsonNode asked) {
		boolean reset = input.has("resetAfterSignal") && input.get("resetAfterSignal").booleanValue();
		BernoulliCusum chart = new BernoulliCusum(value(input, "oddsRatio"), value(input, "h"), reset);
		boolean[] events = ReferenceValues.flags(input, "y");
		double[] expected = ReferenceValues.doubles(input, "p");
		if (!ReferenceValues.part(input, "p").isArray()) {
			double constant = expected[0];
			expected = new double[events.length];
			Arrays.fill(expected, constant);
		}
		BernoulliCusum.Path path = chart.path(events, expected);
		return Map.of("statistic", path.statistic(), "signals", path.signals());
	}

	private static Object runLengths(JsonNode input, JsonNode asked) {
		BernoulliCusum chart = new BernoulliCusum(value(input, "oddsRatio"), value(input, "h"), true);
		return Map.of("inControlArl", chart.inControlRunLength(value(input, "p")).known(), "outOfControlArl",
				chart.outOfControlRunLength(value(input, "p")).known());
	}

	private static Object threshold(JsonNode input, JsonNode asked) {
		return ReferenceValues.describe(
				BernoulliCusum.thresholdFor(value(input, "p"), value(input, "oddsRatio"), value(input, "targetArl"),
						ReferenceValues.number(input, "step", 0.01)),
				(threshold) -> Map.of("h", threshold.threshold(), "inControlArl", threshold.inControlRunLength()));
	}

	private static Object distribution(JsonNode input, JsonNode asked) {
		return Map.of("value", switch (ReferenceValues.part(input, "fn").asString()) {
			case "normalCdf" -> Tails.normalBelow(value(input, "x"));
			case "normalSf" -> Tails.normalAbove(value(input, "x"));
			case "normalQuantile" -> Tails.normalQuantile(value(input, "p"));
			case "chiSquareSf" -> Tails.chiSquareAbove(value(input, "x"), value(input, "df"));
			case "tSf" -> Tails.studentAbove(value(input, "x"), value(input, "df"));
			case "tQuantile" -> Tails.studentQuantile(value(input, "p"), value(input, "df"));
			case "betaQuantile" -> Tails.betaQuantile(value(input, "p"), value(input, "a"), value(input, "b"));
			case "fQuantile" -> Tails.fQuantile(value(input, "p"), value(input, "df1"), value(input, "df2"));
			case "binomialCdf" -> Tails.binomialAtMost(ReferenceValues.whole(input, "k"),
					ReferenceValues.whole(input, "n"), value(input, "p"));
			default -> throw new IllegalStateException("no function named " + input.get("fn"));
		});
	}

}
