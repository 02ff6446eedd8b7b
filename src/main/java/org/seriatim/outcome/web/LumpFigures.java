package org.seriatim.outcome.web;

import java.util.List;
import java.util.function.UnaryOperator;

import org.seriatim.outcome.domain.LumpDurations;
import org.seriatim.outcome.domain.LumpGroup;
import org.seriatim.outcome.web.Figures.Format;
import org.springframework.stereotype.Component;

/** Durations of lumps by group, for the file and for the report. */
@Component
class LumpFigures {

	private final OutcomeWords words;

	LumpFigures(OutcomeWords words) {
		this.words = words;
	}

	/** The columns of the file are fixed for scripts that read it. */
	Figures groups(List<LumpGroup> groups, UnaryOperator<String> values, UnaryOperator<String> names) {
		var table = Figures.named("lumps", this.words.text("outcome.lumps.file"), this.words)
			.column("group", Format.NAME)
			.counts("patients", "lumps", "right_censored", "recurrent")
			.limits("median_left_day", "median_right_day", Format.COUNT);
		for (int day : LumpDurations.DAYS) {
			table.limits("present_" + day + "_low", "present_" + day + "_high", Format.SHARE);
		}
		for (LumpGroup group : groups) {
			var row = table.row()
				.name(values.apply(group.value()), names.apply(group.value()))
				.number(group.patients())
				.number(group.lumps())
				.number(group.rightCensored())
				.number(group.recurrent())
				.limits(group.median());
			for (int day : LumpDurations.DAYS) {
				row.limits(group.presentOn(day));
			}
			row.end();
		}
		return table.done();
	}

}
