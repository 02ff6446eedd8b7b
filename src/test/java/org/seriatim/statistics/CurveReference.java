package org.seriatim.statistics;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.stream.IntStream;

import tools.jackson.databind.JsonNode;

/**
 * Interval-censored curves, quantiles and the patient bootstrap in the form of the
 * reference cases.
 */
final class CurveReference {

	/** Any seed must do: the cases hold brackets for all of them. */
	private static final long SEED = 20261120;

	private CurveReference() {
	}

	static Map<String, ReferenceMethod> methods() {
		return Map.of("turnbull_npmle", CurveReference::curve, "quantile", CurveReference::quantile,
				"cluster_bootstrap_percentile", CurveReference::bootstrap, "percentile_ranks", CurveReference::ranks);
	}

	private static Object curve(JsonNode input, JsonNode asked) {
		return ReferenceValues.describe(IntervalCensoredCurve.of(ReferenceValues.intervals(input)), (curve) -> {
			double[] times = asked.has("survivalBounds") ? ReferenceValues.doubles(asked.get("survivalBounds"), "t")
					: new double[0];
			List<Bounds> bounds = Arrays.stream(times).mapToObj(curve::survivalBounds).toList();
			return ReferenceValues.map("innermostCount", curve.innermost().size(), "support", masses(curve.support()),
					"innermost", masses(curve.innermost()), "logLikelihood", curve.logLikelihood(), "kktRelativeExcess",
					curve.kuhnTuckerExcess(), "median", ends(curve.median()), "quartile25", ends(curve.quantile(0.25)),
					"quartile75", ends(curve.quantile(0.75)), "survivalBounds",
					Map.of("t", times, "lower", bounds.stream().map(Bounds::low).toList(), "upper",
							bounds.stream().map(Bounds::high).toList()));
		});
	}

	private static Object masses(List<Mass> masses) {
		return Map.of("left", masses.stream().map(Mass::left).toList(), "right",
				masses.stream().map(Mass::right).toList(), "mass", masses.stream().map(Mass::mass).toList());
	}

	private static Object ends(Bounds quantile) {
		return Map.of("lower", quantile.low(), "upper", quantile.high());
	}

	private static Object quantile(JsonNode input, JsonNode asked) {
		double[] sample = ReferenceValues.doubles(input, "x");
		return Map.of("type7",
				Arrays.stream(ReferenceValues.doubles(input, "p"))
					.mapToObj((level) -> SampleQuantile.of(sample, level))
					.toList(),
				"median", SampleQuantile.median(sample));
	}

	private static Object ranks(JsonNode input, JsonNode asked) {
		var ranks = ReferenceValues.elements(input, "cases")
			.stream()
			.map((item) -> PercentileLimits.ranks(ReferenceValues.whole(item, "replicates"),
					ReferenceValues.number(item, "confidence")))
			.toList();
		return Map.of("lowerRank", ranks.stream().map((rank) -> rank.map(PercentileLimits.Ranks::lower)).toList(),
				"upperRank", ranks.stream().map((rank) -> rank.map(PercentileLimits.Ranks::upper)).toList());
	}

	private static Object bootstrap(JsonNode input, JsonNode asked) {
		double[][] clusters = ReferenceValues.rows(input, "clusters");
		String statistic = ReferenceValues.part(input, "statistic").asString();
		boolean median = statistic.contains("median");
		if (!median && !statistic.contains("mean") && !statistic.contains("proportion")) {
			throw new IllegalStateException("no statistic named " + statistic);
		}
		for (double[] cluster : clusters) {
			Measured.require("clusters", cluster);
		}
		int replicates = input.has("replicates") ? ReferenceValues.whole(input, "replicates")
				: BootstrapPlan.DEFAULT_REPLICATES;
		BootstrapPlan plan = new BootstrapPlan(SEED, replicates, ReferenceValues.confidence(input));
		return ReferenceValues.describe(
				PatientBootstrap.limits(clusters.length, (drawn) -> pooled(clusters, drawn, median), plan),
				(limits) -> {
					Map<String, Object> values = ReferenceValues.map("estimate", limits.estimate(), "lowerLimit",
							limits.low(), "upperLimit", limits.high(), "sd", limits.standardDeviation());
					if (asked.has("exactBootstrapMean") || asked.has("exactBootstrapSd") || asked.has("supportMin")
							|| asked.has("supportMax")) {
						values.putAll(exact(clusters, median));
					}
					return values;
				});
	}

	private static OptionalDouble pooled(double[][] clusters, int[] timesDrawn, boolean median) {
		double[] pool = IntStream.range(0, clusters.length)
			.boxed()
			.flatMapToDouble((g) -> IntStream.range(0, timesDrawn[g])
				.boxed()
				.flatMapToDouble((time) -> Arrays.stream(clusters[g])))
			.toArray();
		return median ? SampleQuantile.median(pool) : Arrays.stream(pool).average();
	}

	/**
	 * Moments and range over all G^G equally likely resamples, those that draw every
	 * patient equally often taken together.
	 */
	private static Map<String, Object> exact(double[][] clusters, boolean median) {
		Map<Double, Double> chances = new TreeMap<>();
		enumerate(clusters, median, new int[clusters.length], 0, clusters.length, 1, chances);
		double all = chances.values().stream().mapToDouble(Double::doubleValue).sum();
		double mean = chances.entrySet().stream().mapToDouble((one) -> one.getKey() * one.getValue() / all).sum();
		double variance = chances.entrySet()
			.stream()
			.mapToDouble((one) -> (one.getKey() - mean) * (one.getKey() - mean) * one.getValue() / all)
			.sum();
		List<Double> values = List.copyOf(chances.keySet());
		return ReferenceValues.map("exactBootstrapMean", mean, "exactBootstrapSd", Math.sqrt(variance), "supportMin",
				values.get(0), "supportMax", values.get(values.size() - 1));
	}

	/**
	 * Adds the resamples that draw the first patients as often as stated.
	 * @param left draws left for the others
	 * @param chance 1 over the product of the factorials of the counts so far
	 */
	private static void enumerate(double[][] clusters, boolean median, int[] timesDrawn, int patient, int left,
			double chance, Map<Double, Double> chances) {
		boolean last = patient == clusters.length - 1;
		double share = chance;
		for (int times = 0; times <= left; times++) {
			share /= Math.max(1, times);
			timesDrawn[patient] = times;
			if (!last) {
				enumerate(clusters, median, timesDrawn, patient + 1, left - times, share, chances);
			}
			else if (times == left) {
				double weight = share;
				pooled(clusters, timesDrawn, median).ifPresent((value) -> chances.merge(value, weight, Double::sum));
			}
		}
	}

}
