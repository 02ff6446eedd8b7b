package org.seriatim.outcome.web;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.UnaryOperator;
import java.util.stream.IntStream;

import org.jspecify.annotations.Nullable;
import org.seriatim.outcome.domain.LumpDurations;
import org.seriatim.outcome.domain.LumpGroup;
import org.seriatim.outcome.domain.LumpGrouping;
import org.seriatim.shell.Plot;
import org.seriatim.shell.Written;
import org.seriatim.statistics.Bounds;
import org.seriatim.statistics.CurveLimits;
import org.seriatim.statistics.Estimate;
import org.seriatim.statistics.Mass;

/**
 * The lumps page with every figure as it is written there.
 *
 * @param rows one group each
 * @param lumps number of lumps over all groups
 * @param curves the share still present by day: with 95 % limits for a single group,
 * without for several
 * @param someNotDrawn whether more groups are in the table than a plot can tell apart
 * @param query the question again, for the addresses of the files
 */
record LumpsPage(LumpGrouping grouping, String asOf, List<Row> rows, int lumps, int rightCensored, int recurrent,
		int withoutSession, int contradictions, Plot curves, boolean someNotDrawn, String query) {

	/**
	 * A group of the table.
	 *
	 * @param label message key of a word of the records, or {@code null} where
	 * {@code name} is a name
	 * @param median "6 to 7" days, "beyond 40" where it is not reached
	 * @param medianLimits its 95 % limits, or {@code null} where they cannot be told
	 * @param present one share for each of {@link LumpDurations#DAYS}
	 * @param steps the estimate itself
	 * @param days the share on each day that is drawn
	 */
	record Row(String name, int patients, int lumps, int rightCensored, int recurrent, String median,
			@Nullable String medianLimits, List<Share> present, List<Step> steps, List<Share> days) {
	}

	/**
	 * A share still present on a day.
	 *
	 * @param value "20 %", or "18 to 22 %" where the data leave it open
	 * @param limits 95 % limits, or {@code null} where they cannot be told
	 */
	record Share(int day, String value, @Nullable String limits) {
	}

	/** One mass of the estimate: how much ended in (left, right]. */
	record Step(String interval, String mass) {
	}

	/**
	 * @param text the text of a message
	 */
	static LumpsPage of(LumpDurations.Answer answer, String query, UnaryOperator<String> practitioners,
			UnaryOperator<String> text) {
		var question = answer.question();
		var groups = answer.groups();
		var limits = groups.stream().map(LumpsPage::limits).toList();
		var rows = new ArrayList<Row>();
		for (int index = 0; index < groups.size(); index++) {
			rows.add(row(name(question.grouping(), groups.get(index).value(), practitioners, text), groups.get(index),
					limits.get(index)));
		}
		if (question.grouping() == LumpGrouping.PRACTITIONER) {
			rows.sort(Comparator.comparing(Row::name));
		}
		return new LumpsPage(question.grouping(), Written.day(answer.asOf()), rows,
				rows.stream().mapToInt(Row::lumps).sum(), rows.stream().mapToInt(Row::rightCensored).sum(),
				rows.stream().mapToInt(Row::recurrent).sum(), answer.withoutSession(), answer.contradictions(),
				curves(question.grouping(), groups, limits, practitioners, text), groups.size() > Plot.MOST_SERIES,
				query);
	}

	private static Row row(String name, LumpGroup group, @Nullable CurveLimits limits) {
		var medianLimits = (limits != null) ? days(new Bounds(limits.medianLow(), limits.medianHigh())) : null;
		return new Row(name, group.patients(), group.lumps(), group.rightCensored(), group.recurrent(),
				days(group.median()), medianLimits,
				LumpDurations.DAYS.stream().map((day) -> share(group, limits, day)).toList(),
				group.curve().masses().stream().map(LumpsPage::step).toList(),
				IntStream.rangeClosed(0, LumpDurations.LAST_DRAWN_DAY)
					.mapToObj((day) -> share(group, limits, day))
					.toList());
	}

	private static Share share(LumpGroup group, @Nullable CurveLimits limits, int day) {
		var ofDay = (limits != null) ? limits.present().get(day) : null;
		return new Share(day, percent(group.presentOn(day)),
				(ofDay != null) ? percent(new Bounds(ofDay.low(), ofDay.high())) : null);
	}

	static @Nullable CurveLimits limits(LumpGroup group) {
		return (LumpDurations.limits(group) instanceof Estimate.Known<CurveLimits> known) ? known.value() : null;
	}

	private static String name(LumpGrouping grouping, String value, UnaryOperator<String> practitioners,
			UnaryOperator<String> text) {
		if (grouping == LumpGrouping.PRACTITIONER) {
			return practitioners.apply(value);
		}
		if (grouping == LumpGrouping.NONE || value.equals(LumpGrouping.UNKNOWN)) {
			return text.apply("outcome.lumps.group." + value);
		}
		return grouping.isWorded() ? text.apply(grouping.word() + "." + value) : value;
	}

	/** The groups with most lumps, as many as a plot can tell apart. */
	private static Plot curves(LumpGrouping grouping, List<LumpGroup> groups, List<@Nullable CurveLimits> limits,
			UnaryOperator<String> practitioners, UnaryOperator<String> text) {
		var drawn = IntStream.range(0, groups.size())
			.boxed()
			.sorted(Comparator.comparingInt((Integer index) -> -groups.get(index).lumps()))
			.limit(Plot.MOST_SERIES)
			.sorted()
			.map((index) -> new Plot.Series(name(grouping, groups.get(index).value(), practitioners, text),
					Plot.Shape.STEP, points(groups.get(index), (groups.size() == 1) ? limits.get(index) : null)))
			.toList();
		return new Plot(
				Plot.Axis.number(text.apply("outcome.lumps.axis.day"), 0.0, (double) LumpDurations.LAST_DRAWN_DAY),
				Plot.Axis.share(text.apply("outcome.lumps.axis.present")), drawn);
	}

	/**
	 * Where the data leave a share open it has no value but two ends; limits, where
	 * shown, cover both.
	 */
	private static List<Plot.Point> points(LumpGroup group, @Nullable CurveLimits limits) {
		return IntStream.rangeClosed(0, LumpDurations.LAST_DRAWN_DAY).mapToObj((day) -> {
			var share = group.presentOn(day);
			var ofDay = (limits != null) ? limits.present().get(day) : null;
			if (ofDay != null) {
				return new Plot.Point(day, share.isUnique() ? share.low() : null, ofDay.low(), ofDay.high());
			}
			return share.isUnique() ? new Plot.Point(day, share.low())
					: new Plot.Point(day, null, share.low(), share.high());
		}).toList();
	}

	private static Step step(Mass mass) {
		return new Step(days(new Bounds(mass.left(), mass.right())), Written.number(100 * mass.mass(), 1) + " %");
	}

	private static String days(Bounds bounds) {
		if (Double.isInfinite(bounds.high())) {
			return "beyond " + Written.number(bounds.low(), 0);
		}
		return bounds.isUnique() ? Written.number(bounds.low(), 0)
				: Written.number(bounds.low(), 0) + " to " + Written.number(bounds.high(), 0);
	}

	private static String percent(Bounds bounds) {
		String low = Written.number(100 * bounds.low(), 0);
		String high = Written.number(100 * bounds.high(), 0);
		return (low.equals(high) ? low : low + " to " + high) + " %";
	}

	/** The one group when nothing is grouped. */
	public @Nullable Row all() {
		return (this.grouping == LumpGrouping.NONE && !this.rows.isEmpty()) ? this.rows.get(0) : null;
	}

}
