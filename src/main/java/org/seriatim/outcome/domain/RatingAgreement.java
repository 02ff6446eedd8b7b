package org.seriatim.outcome.domain;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.RatedDepth;
import org.seriatim.assessment.RepeatedRatings;
import org.seriatim.statistics.Bounds;
import org.seriatim.statistics.IntraclassCorrelation;
import org.seriatim.statistics.WeightedKappa;

/**
 * How well ratings of one thing on one day agree: measurement error of depths on the
 * scale of logarithms, intraclass correlation of depths, weighted kappa of grades. Two
 * assessors and one assessor's blinded repeat are kept apart.
 *
 * @param error of depths, as advice and improvement use it
 * @param depths intraclass correlations
 * @param grades kappas
 * @param pairs of depths in millimetres, for the plot
 */
public record RatingAgreement(RepeatedRatings error, List<Correlation> depths, List<Kappa> grades, List<Pair> pairs) {

	private static final double CONFIDENCE = 0.95;

	/** Grades of severity and of pores run from 0 to 4. */
	private static final int GRADES = 5;

	/** Fewer pairs are told with their number only. */
	public static final int FEWEST_PAIRS = 10;

	/** Who gave the two ratings. */
	public enum Raters {

		BETWEEN, WITHIN

	}

	/** Two depths of one scar on one day, in millimetres. */
	public record Pair(Raters raters, String patient, double first, double second) {
	}

	/** Two grades of one thing on one day. */
	public record GradePair(Raters raters, String patient, String measure, int first, int second) {
	}

	/**
	 * ICC(2,1), with the error in millimetres.
	 *
	 * @param limits taking pairs as independent
	 */
	public record Correlation(Raters raters, int pairs, int patients, OptionalDouble icc, @Nullable Bounds limits,
			OptionalDouble standardErrorMm, OptionalDouble smallestChangeMm) {
	}

	/**
	 * Kappa with quadratic weights.
	 *
	 * @param measure what was graded
	 * @param same share of pairs with the very same grade
	 */
	public record Kappa(String measure, Raters raters, int pairs, int patients, OptionalDouble same,
			OptionalDouble kappa, @Nullable Bounds limits) {
	}

	/**
	 * @param depths of scars that were rated more than once on a day
	 * @param gradePairs of severity and pores
	 */
	public static RatingAgreement of(List<RatedDepth> depths, List<GradePair> gradePairs) {
		var pairs = pairs(depths);
		var correlations = new ArrayList<Correlation>();
		for (Raters raters : Raters.values()) {
			correlations.add(correlation(raters, pairs.stream().filter((pair) -> pair.raters() == raters).toList()));
		}
		var kappas = gradePairs.stream()
			.collect(Collectors.groupingBy(GradePair::measure, java.util.TreeMap::new,
					Collectors.groupingBy(GradePair::raters, java.util.TreeMap::new, Collectors.toList())))
			.entrySet()
			.stream()
			.flatMap((measure) -> measure.getValue()
				.entrySet()
				.stream()
				.map((raters) -> kappa(measure.getKey(), raters.getKey(), raters.getValue())))
			.toList();
		return new RatingAgreement(RepeatedRatings.among(depths), List.copyOf(correlations), kappas, pairs);
	}

	/**
	 * The first two assessors of a scar and day by their ids, and each first rating with
	 * its blinded repeat; by methods that are not known to differ.
	 */
	private static List<Pair> pairs(List<RatedDepth> depths) {
		record Day(Object scar, Object day) {
		}
		var pairs = new ArrayList<Pair>();
		depths.stream()
			.collect(Collectors.groupingBy((depth) -> new Day(depth.scar(), depth.assessedOn()),
					java.util.LinkedHashMap::new, Collectors.toList()))
			.values()
			.forEach((ofDay) -> {
				var firsts = ofDay.stream()
					.filter((depth) -> !depth.blindedRepeat())
					.sorted(Comparator.comparing((RatedDepth depth) -> depth.assessor().toString()))
					.toList();
				if (firsts.size() > 1 && isOneMethod(firsts.get(0), firsts.get(1))) {
					pairs.add(pair(Raters.BETWEEN, firsts.get(0), firsts.get(1)));
				}
				ofDay.stream()
					.filter(RatedDepth::blindedRepeat)
					.forEach((repeat) -> firsts.stream()
						.filter((first) -> first.assessor().equals(repeat.assessor()) && isOneMethod(first, repeat))
						.findFirst()
						.ifPresent((first) -> pairs.add(pair(Raters.WITHIN, first, repeat))));
			});
		return List.copyOf(pairs);
	}

	private static boolean isOneMethod(RatedDepth one, RatedDepth other) {
		return one.method() == null || other.method() == null || one.method() == other.method();
	}

	private static Pair pair(Raters raters, RatedDepth one, RatedDepth other) {
		return new Pair(raters, one.patient().toString(), one.depthMm(), other.depthMm());
	}

	private static Correlation correlation(Raters raters, List<Pair> pairs) {
		int patients = (int) pairs.stream().map(Pair::patient).distinct().count();
		var none = OptionalDouble.empty();
		if (pairs.size() < FEWEST_PAIRS) {
			return new Correlation(raters, pairs.size(), patients, none, null, none, none);
		}
		return IntraclassCorrelation
			.of(pairs.stream().map((pair) -> new double[] { pair.first(), pair.second() }).toArray(double[][]::new),
					CONFIDENCE)
			.known()
			.map((icc) -> new Correlation(raters, pairs.size(), patients, icc.icc(), icc.limits().orElse(null),
					OptionalDouble.of(icc.standardErrorAgreement()), OptionalDouble.of(icc.smallestChangeAgreement())))
			.orElse(new Correlation(raters, pairs.size(), patients, none, null, none, none));
	}

	private static Kappa kappa(String measure, Raters raters, List<GradePair> pairs) {
		int patients = (int) pairs.stream().map(GradePair::patient).distinct().count();
		var none = OptionalDouble.empty();
		if (pairs.size() < FEWEST_PAIRS) {
			return new Kappa(measure, raters, pairs.size(), patients, none, none, null);
		}
		int[][] table = new int[GRADES][GRADES];
		pairs.forEach((pair) -> table[pair.first()][pair.second()]++);
		var kappa = WeightedKappa.of(table, WeightedKappa.Weights.QUADRATIC, CONFIDENCE);
		double same = (double) pairs.stream().filter((pair) -> pair.first() == pair.second()).count() / pairs.size();
		return new Kappa(measure, raters, pairs.size(), patients, OptionalDouble.of(same), kappa.kappa(),
				(kappa.low().isPresent() && kappa.high().isPresent())
						? new Bounds(kappa.low().getAsDouble(), kappa.high().getAsDouble()) : null);
	}

}
