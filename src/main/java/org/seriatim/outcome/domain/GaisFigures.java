package org.seriatim.outcome.domain;

import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;
import java.util.stream.Collectors;

/**
 * Global improvement as practitioners and as patients judge it, side by side and as
 * shares; the levels are never averaged.
 */
public record GaisFigures(List<Row> rows) {

	/** From worse to very much improved. */
	public static final List<Integer> LEVELS = List.of(-1, 0, 1, 2, 3);

	/** The last judgement of one stage of a series. */
	public record Judgement(String patient, int stage, String judgedBy, int level) {
	}

	/**
	 * @param judgedBy {@code practitioner} or {@code patient}
	 * @param shares one of each of {@link #LEVELS}; empty with fewer than
	 * {@value ImprovementFigures#FEWEST_PATIENTS} patients
	 */
	public record Row(int stage, String judgedBy, int patients, int judgements, List<Double> shares) {
	}

	public static GaisFigures of(List<Judgement> judgements) {
		var rows = new ArrayList<Row>();
		judgements.stream()
			.collect(Collectors.groupingBy(Judgement::stage, TreeMap::new,
					// the patient after the practitioner, whom the record asks first
					Collectors.groupingBy(Judgement::judgedBy, () -> new TreeMap<>(java.util.Comparator.reverseOrder()),
							Collectors.toList())))
			.forEach((stage, ofStage) -> ofStage.forEach((by, judged) -> rows.add(row(stage, by, judged))));
		return new GaisFigures(List.copyOf(rows));
	}

	private static Row row(int stage, String by, List<Judgement> judged) {
		int patients = (int) judged.stream().map(Judgement::patient).distinct().count();
		var shares = (patients < ImprovementFigures.FEWEST_PATIENTS) ? List.<Double>of() : LEVELS.stream()
			.map((level) -> (double) judged.stream().filter((one) -> one.level() == level).count() / judged.size())
			.toList();
		return new Row(stage, by, patients, judged.size(), shares);
	}

}
