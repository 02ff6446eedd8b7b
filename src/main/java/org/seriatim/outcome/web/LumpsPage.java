package org.seriatim.outcome.web;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.outcome.domain.LumpDurations;
import org.seriatim.outcome.domain.LumpGroup;
import org.seriatim.outcome.domain.LumpGrouping;
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
 * @param query the question again, for the addresses of the files
 */
record LumpsPage(LumpGrouping grouping, @Nullable LocalDate from, @Nullable LocalDate to, String asOf, List<Row> rows,
		int lumps, int rightCensored, int recurrent, int withoutSession, int contradictions, String query) {

	/**
	 * A group of the table.
	 *
	 * @param label message key of a word of the records, or {@code null} where
	 * {@code name} is a name
	 * @param median "6 to 7" days, "beyond 40" where it is not reached
	 * @param medianLimits its 95 % limits, or {@code null} where they cannot be told
	 * @param present one share for each of {@link LumpDurations#DAYS}
	 * @param steps the estimate itself
	 */
	record Row(@Nullable String label, String name, int patients, int lumps, int rightCensored, int recurrent,
			String median, @Nullable String medianLimits, List<Share> present, List<Step> steps) {
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

	static LumpsPage of(LumpDurations.Answer answer) {
		var question = answer.question();
		var rows = answer.groups().stream().map((group) -> row(question.grouping(), group)).toList();
		return new LumpsPage(question.grouping(), question.from(), question.to(), Written.day(answer.asOf()), rows,
				rows.stream().mapToInt(Row::lumps).sum(), rows.stream().mapToInt(Row::rightCensored).sum(),
				rows.stream().mapToInt(Row::recurrent).sum(), answer.withoutSession(), answer.contradictions(),
				query(question.grouping(), question.from(), question.to()));
	}

	private static Row row(LumpGrouping grouping, LumpGroup group) {
		var limits = (LumpDurations.limits(group) instanceof Estimate.Known<CurveLimits> known) ? known.value() : null;
		var present = new ArrayList<Share>();
		for (int day : LumpDurations.DAYS) {
			var share = group.presentOn(day);
			var ofDay = (limits != null) ? limits.present().get(day) : null;
			present.add(new Share(day, percent(share),
					(ofDay != null) ? percent(new Bounds(ofDay.low(), ofDay.high())) : null));
		}
		var medianLimits = (limits != null) ? days(new Bounds(limits.medianLow(), limits.medianHigh())) : null;
		return new Row(label(grouping, group.value()), group.value(), group.patients(), group.lumps(),
				group.rightCensored(), group.recurrent(), days(group.median()), medianLimits, present,
				group.curve().masses().stream().map(LumpsPage::step).toList());
	}

	private static @Nullable String label(LumpGrouping grouping, String value) {
		if (!grouping.isWorded() && !value.equals(LumpGrouping.UNKNOWN)) {
			return null;
		}
		boolean ownWord = grouping == LumpGrouping.NONE || value.equals(LumpGrouping.UNKNOWN);
		return (ownWord ? "outcome.lumps.group" : grouping.word()) + "." + value;
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

	private static String query(LumpGrouping grouping, @Nullable LocalDate from, @Nullable LocalDate to) {
		return "?group=" + grouping.word() + ((from != null) ? "&from=" + from : "")
				+ ((to != null) ? "&to=" + to : "");
	}

	public LumpGrouping[] groupings() {
		return LumpGrouping.values();
	}

	/** The one group when nothing is grouped. */
	public @Nullable Row all() {
		return (this.grouping == LumpGrouping.NONE && !this.rows.isEmpty()) ? this.rows.get(0) : null;
	}

}
