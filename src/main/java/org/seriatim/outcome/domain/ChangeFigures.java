package org.seriatim.outcome.domain;

import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.statistics.Bounds;
import org.seriatim.statistics.ClusterRobustRegression;
import org.seriatim.statistics.Clustered;

/**
 * Mean change of a score against its baseline, by what was scored and by stage, with
 * patient-clustered CR2 limits. Rows with fewer than
 * {@value ImprovementFigures#FEWEST_PATIENTS} patients keep their counts.
 */
public record ChangeFigures(List<Row> rows) {

	private static final double CONFIDENCE = 0.95;

	/**
	 * One score at one stage.
	 *
	 * @param subject what was scored: an item of a scale, a region
	 */
	public record Pair(String patient, String subject, int stage, double before, double after) {
	}

	/**
	 * @param pairs of baseline and stage
	 * @param before mean at baseline; empty with too few patients, as all that follows
	 * @param change mean of after less before
	 */
	public record Row(String subject, int stage, int patients, int pairs, OptionalDouble before, OptionalDouble after,
			OptionalDouble change, OptionalDouble standardError, @Nullable Bounds limits) {
	}

	public static ChangeFigures of(List<Pair> pairs) {
		record Key(String subject, int stage) {
		}
		return new ChangeFigures(pairs.stream()
			.collect(Collectors.groupingBy((pair) -> new Key(pair.subject(), pair.stage()),
					() -> new TreeMap<>(Comparator.comparing(Key::subject).thenComparingInt(Key::stage)),
					Collectors.toList()))
			.entrySet()
			.stream()
			.map((row) -> row(row.getKey().subject(), row.getKey().stage(), row.getValue()))
			.toList());
	}

	private static Row row(String subject, int stage, List<Pair> pairs) {
		int patients = (int) pairs.stream().map(Pair::patient).distinct().count();
		if (patients < ImprovementFigures.FEWEST_PATIENTS) {
			var none = OptionalDouble.empty();
			return new Row(subject, stage, patients, pairs.size(), none, none, none, none, null);
		}
		var mean = ClusterRobustRegression
			.mean(pairs.stream().map((pair) -> new Clustered<>(pair.patient(), pair.after() - pair.before())).toList())
			.known()
			.orElseThrow()
			.coefficients()
			.get(0);
		return new Row(subject, stage, patients, pairs.size(), pairs.stream().mapToDouble(Pair::before).average(),
				pairs.stream().mapToDouble(Pair::after).average(), OptionalDouble.of(mean.estimate()),
				mean.standardError(), mean.limits(CONFIDENCE).orElse(null));
	}

}
