package org.seriatim.statistics;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import java.util.stream.StreamSupport;

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
			double[] times = asked.has("survivalBounds") ? ReferenceValues.doubles(asked.get("survivalBounds").get("t"))
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
		double[] sample = ReferenceValues.doubles(input.get("x"));
		return Map.of("type7",
				Arrays.stream(ReferenceValues.doubles(input.get("p")))
					.mapToObj((level) -> SampleQuantile.of(sample, level))
					.toList(),
				"median", SampleQuantile.median(sample));
	}

	private static Object ranks(JsonNode input, JsonNode asked) {
		var ranks = StreamSupport.stream(input.get("cases").spliterator(), false)
			.map((item) -> PercentileLimits.ranks(item.get("replicates").intValue(),
					item.get("confidence").doubleValue()))
			.toList();
		return Map.of("lowerRank", ranks.stream().map((rank) -> rank.map(PercentileLimits.Ranks::lower)).toList(),
				"upperRank", ranks.stream().map((rank) -> rank.map(PercentileLimits.Ranks::upper)).toList());
	}

	private static Object bootstrap(JsonNode input, JsonNode asked) {
		double[][] clusters = StreamSupport.stream(input.get("clusters").spliterator(), false)
			.map(ReferenceValues::doubles)
			.toArray(double[][]::new);
		boolean median = input.get("statistic").asString().contains("median");
		BootstrapPlan plan = new BootstrapPlan(SEED, input.get("replicates").intValue(),
				ReferenceValues.confidence(input));
		return ReferenceValues.describe(
				PatientBootstrap.limits(clusters.length, (drawn) -> pooled(clusters, drawn, median), plan),
				(limits) -> {
					double[] exact = allResamples(clusters, median);
					double mean = Arrays.stream(exact).average().orElseThrow();
					double variance = Arrays.stream(exact)
						.map((value) -> (value - mean) * (value - mean))
						.average()
						.orElseThrow();
					return ReferenceValues.map("estimate", limits.estimate(), "lowerLimit", limits.low(), "upperLimit",
							limits.high(), "sd", limits.standardDeviation(), "exactBootstrapMean", mean,
							"exactBootstrapSd", Math.sqrt(variance), "supportMin",
							Arrays.stream(exact).min().orElseThrow(), "supportMax",
							Arrays.stream(exact).max().orElseThrow());
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
	 * The statistic on each of the G^G equally likely resamples.
	 */
	private static double[] allResamples(double[][] clusters, boolean median) {
		int patients = clusters.length;
		int resamples = (int) Math.round(Math.pow(patients, patients));
		return IntStream.range(0, resamples).mapToDouble((resample) -> {
			int[] timesDrawn = new int[patients];
			int rest = resample;
			for (int draw = 0; draw < patients; draw++) {
				timesDrawn[rest % patients]++;
				rest /= patients;
			}
			return pooled(clusters, timesDrawn, median).orElseThrow();
		}).toArray();
	}

}
