package org.seriatim.record.web;

import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.record.domain.PoreEntry;
import org.seriatim.record.domain.PoreProgress;
import org.seriatim.record.domain.SeriesFigures;
import org.seriatim.shell.Written;

/** The pores by region: grade and density, baseline against the latest stage. */
record PoreTable(List<Row> rows) {

	/**
	 * A region.
	 *
	 * @param trend the grades over the stages; none with fewer than two
	 */
	record Row(String region, String baseline, String latest, String change, @Nullable Trend trend,
			String baselineDensity, String latestDensity, String densityChange, String dates) {
	}

	/** The worst grade of pores. */
	private static final double WORST = 4;

	static PoreTable of(SeriesFigures figures, Texts texts) {
		return new PoreTable(figures.pores().stream().map((region) -> row(region, texts)).toList());
	}

	private static Row row(PoreProgress pores, Texts texts) {
		var grades = pores.gradeByStage();
		var densities = pores.densityByStage();
		var grade = pores.grades().latestStage();
		var density = pores.densities().latestStage();
		return new Row(texts.region(pores.region()), grade(grades.get(0)),
				(grade > 0) ? grade(grades.get(grade)) : Texts.NONE,
				(grade > 0) ? change(grades.get(0), grades.get(grade)) : Texts.NONE,
				Trend.of(grades, WORST, ScarTable::grade, texts), density(densities.get(0)),
				(density > 0) ? density(densities.get(density)) : Texts.NONE,
				(density > 0) ? percent(densities.get(0), densities.get(density), texts) : Texts.NONE,
				dates(pores, texts));
	}

	private static String grade(@Nullable Double grade) {
		return (grade != null) ? ScarTable.grade(grade) : Texts.NONE;
	}

	private static String density(@Nullable Double density) {
		return (density != null) ? Written.number(density, 0) : Texts.NONE;
	}

	private static String change(@Nullable Double before, @Nullable Double after) {
		if (before == null || after == null) {
			return Texts.NONE;
		}
		var change = after - before;
		return Written.signed(change, (change == Math.rint(change)) ? 0 : 1);
	}

	private static String percent(@Nullable Double before, @Nullable Double after, Texts texts) {
		return (before == null || after == null || before == 0) ? Texts.NONE
				: texts.say("record.percent", Written.signed(100 * (after / before - 1), 0));
	}

	/**
	 * The days of the first and the last grade, or of the densities where there is none.
	 */
	private static String dates(PoreProgress pores, Texts texts) {
		var seen = pores.grades().isEmpty() ? pores.densities() : pores.grades();
		var first = day(seen.baseline());
		var last = day(seen.latest());
		if (first.isPresent() && last.isPresent()) {
			return texts.say("record.from-to", first.get(), last.get());
		}
		return first.or(() -> last).orElse(Texts.NONE);
	}

	private static Optional<String> day(List<PoreEntry> entries) {
		return entries.stream().findFirst().map((entry) -> Written.day(entry.assessedOn()));
	}

}
