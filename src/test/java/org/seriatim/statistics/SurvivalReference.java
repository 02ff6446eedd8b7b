package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;

import tools.jackson.databind.JsonNode;

/**
 * Kaplan-Meier curves and tests of groups in the form of the reference cases.
 */
final class SurvivalReference {

	private SurvivalReference() {
	}

	static Map<String, ReferenceMethod> methods() {
		return Map.of("kaplan_meier", SurvivalReference::kaplanMeier, "logrank", SurvivalReference::logRank,
				"ic_logrank", SurvivalReference::scoreTest);
	}

	private static List<EventTime> eventTimes(JsonNode input) {
		double[] time = ReferenceValues.doubles(input, "time");
		boolean[] event = ReferenceValues.flags(input, "event");
		ReferenceValues.requireRows("event", event.length, time.length);
		List<EventTime> times = new ArrayList<>();
		for (int i = 0; i < time.length; i++) {
			times.add(new EventTime(time[i], event[i]));
		}
		return times;
	}

	private static Object kaplanMeier(JsonNode input, JsonNode asked) {
		boolean eventsOnly = input.has("compareOnlyEventTimes") && input.get("compareOnlyEventTimes").booleanValue();
		return ReferenceValues.describe(KaplanMeier.of(eventTimes(input), ReferenceValues.confidence(input)),
				(curve) -> {
					List<KaplanMeier.Row> rows = curve.rows()
						.stream()
						.filter((row) -> !eventsOnly || row.events() > 0)
						.toList();
					Map<String, Object> values = ReferenceValues.map("time",
							rows.stream().map(KaplanMeier.Row::time).toList(), "nRisk",
							rows.stream().map(KaplanMeier.Row::atRisk).toList(), "nEvent",
							rows.stream().map(KaplanMeier.Row::events).toList(), "nCensor",
							rows.stream().map(KaplanMeier.Row::censored).toList(), "survival",
							rows.stream().map(KaplanMeier.Row::survival).toList(), "stdErr",
							rows.stream().map(KaplanMeier.Row::standardError).toList(), "lower",
							rows.stream().map((row) -> row.limits().map(Bounds::low)).toList(), "upper",
							rows.stream().map((row) -> row.limits().map(Bounds::high)).toList());
					put(values, "median", curve.median());
					put(values, "quartile25", curve.quantile(0.25));
					put(values, "quartile75", curve.quantile(0.75));
					return values;
				});
	}

	private static void put(Map<String, Object> values, String name, KaplanMeier.Quantile quantile) {
		values.put(name, quantile.time());
		values.put(name + "Lower", quantile.low());
		values.put(name + "Upper", quantile.high());
	}

	private static <T> List<Grouped<T>> grouped(JsonNode input, List<T> values) {
		List<String> groups = ReferenceValues.words(input, "group", values.size());
		List<Grouped<T>> grouped = new ArrayList<>();
		for (int i = 0; i < groups.size(); i++) {
			grouped.add(new Grouped<>(groups.get(i), values.get(i)));
		}
		return grouped;
	}

	private static Object logRank(JsonNode input, JsonNode asked) {
		double rho = ReferenceValues.number(input, "rho", 0);
		return ReferenceValues.describe(LogRankTest.of(grouped(input, eventTimes(input)), rho),
				(test) -> ReferenceValues.map("groups", test.groups(), "observed", test.observed(), "expected",
						test.expected(), "variance", test.variance(), "chiSquare", test.chiSquare(), "df",
						test.degreesOfFreedom(), "pValue", test.pValue()));
	}

	private static Object scoreTest(JsonNode input, JsonNode asked) {
		var scores = ReferenceValues.choice(IntervalScoreTest.Scores.class, ReferenceValues.part(input, "scores"));
		return ReferenceValues.describe(IntervalScoreTest.of(grouped(input, ReferenceValues.intervals(input)), scores),
				(test) -> ReferenceValues.map("groups", test.groups(), "n", test.n(), "score", test.score(),
						"scoreVector", test.scoreVector(), "chiSquare", test.chiSquare(), "df", test.degreesOfFreedom(),
						"pValue", test.pValue(), "z", test.z()));
	}

}
