package org.seriatim.outcome.web;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;

import org.seriatim.outcome.domain.ComplicationGrouping;
import org.seriatim.outcome.domain.Complications;
import org.seriatim.outcome.domain.DataQuality;
import org.seriatim.outcome.domain.FaceImprovement;
import org.seriatim.outcome.domain.FollowedSessions;
import org.seriatim.outcome.domain.GaisFigures;
import org.seriatim.outcome.domain.LumpDurations;
import org.seriatim.outcome.domain.LumpGrouping;
import org.seriatim.outcome.domain.LumpQuestion;
import org.seriatim.outcome.domain.OutcomeFilter;
import org.seriatim.outcome.domain.RatingRepeatability;
import org.seriatim.outcome.domain.ScarImprovement;
import org.seriatim.outcome.web.Figures.Format;
import org.springframework.stereotype.Component;

/**
 * The figures of a period as they may be shown outside the clinic. Nothing in them is by
 * practitioner or by lot.
 */
@Component
class OutsideReport {

	private final FollowedSessions sessions;

	private final ScarImprovement scars;

	private final FaceImprovement faces;

	private final LumpDurations lumps;

	private final Complications complications;

	private final RatingRepeatability ratings;

	private final DataQuality quality;

	private final ImprovementPage improvementPage;

	private final LumpFigures lumpFigures;

	private final ComplicationsPage complicationsPage;

	private final RepeatabilityController repeatabilityPage;

	private final DataQualityController qualityPage;

	private final OutcomeWords words;

	OutsideReport(FollowedSessions sessions, ScarImprovement scars, FaceImprovement faces, LumpDurations lumps,
			Complications complications, RatingRepeatability ratings, DataQuality quality,
			ImprovementPage improvementPage, LumpFigures lumpFigures, ComplicationsPage complicationsPage,
			RepeatabilityController repeatabilityPage, DataQualityController qualityPage, OutcomeWords words) {
		this.sessions = sessions;
		this.scars = scars;
		this.faces = faces;
		this.lumps = lumps;
		this.complications = complications;
		this.ratings = ratings;
		this.quality = quality;
		this.improvementPage = improvementPage;
		this.lumpFigures = lumpFigures;
		this.complicationsPage = complicationsPage;
		this.repeatabilityPage = repeatabilityPage;
		this.qualityPage = qualityPage;
		this.words = words;
	}

	List<Figures> tables(OutcomeFilter filter) {
		var tables = new OutsideTables();
		tables.guard(flow(filter), "sessions")
			.counts(1, "patients", "series", "sessions", "assessed", "awaited", "lost")
			.whole("sessions", "assessed", "awaited", "lost");
		scars(tables, filter);
		changes(tables, filter);
		lumps(tables, filter);
		complications(tables, filter);
		tables
			.guard(this.repeatabilityPage.errorFigures(this.ratings.agreement(filter)), "pairs", "pairs_missing",
					"patients_missing")
			.counts(1, "pairs_rated", "patients")
			.from(List.of("pairs_rated", "patients"), "sem_log", "sdc_log", "sdc_percent");
		tables.guard(this.qualityPage.quarters(this.quality.answer(filter)), "quality")
			.counts(2, "entries", "wrong")
			.parts("entries", "wrong")
			.from(List.of("entries", "wrong"), "share");
		return tables.shown();
	}

	private Figures flow(OutcomeFilter filter) {
		var flow = this.sessions.flow(filter);
		return Figures.named("flow", this.words.text("outcome.flow"), this.words)
			.column("group", Format.NAME)
			.counts("patients", "series", "sessions", "assessed", "awaited", "lost")
			.row()
			.name("all", this.words.text("outcome.group.all"))
			.number(flow.patients())
			.number(flow.series())
			.number(flow.sessions())
			.number(flow.assessed())
			.number(flow.awaited())
			.number(flow.lost())
			.end()
			.done();
	}

	private void scars(OutsideTables tables, OutcomeFilter filter) {
		var figures = this.scars.answer(filter).figures();
		tables.guard(this.improvementPage.scars(figures), "scars")
			.counts(2, "patients", "scars", "resolved", "grade_scars")
			.parts("scars", "resolved")
			.from(List.of("patients", "scars"), "mean_percent", "standard_error", "low", "high")
			.from(List.of("grade_scars"), "mean_grade_change");
		tables.guard(this.improvementPage.changed(figures), "scars")
			.counts(2, "patients", "scars", "better_scars", "worse_scars")
			.parts("scars", "better_scars", "worse_scars")
			.from(List.of("patients", "scars", "better_scars"), "better", "better_low", "better_high")
			.from(List.of("patients", "scars", "worse_scars"), "worse", "worse_low", "worse_high");
		tables.guard(this.improvementPage.gais(this.faces.gais(filter)), "gais")
			.counts(2, "patients", "judgements")
			.shares(2, "judgements",
					GaisFigures.LEVELS.stream().map((level) -> "gais_" + ((level < 0) ? "worse" : level)).toList());
	}

	private void changes(OutsideTables tables, OutcomeFilter filter) {
		var pores = this.faces.pores(filter);
		for (Figures changes : List.of(this.improvementPage.changes("scales", this.faces.scales(filter)),
				this.improvementPage.changes("pores", pores.grades()),
				this.improvementPage.changes("pore_density", pores.densities()))) {
			tables.guard(changes, changes.word())
				.counts(2, "patients", "pairs")
				.from(List.of("patients", "pairs"), "mean_before", "mean_after", "mean_change", "standard_error", "low",
						"high");
		}
	}

	private void lumps(OutsideTables tables, OutcomeFilter filter) {
		var answer = this.lumps.answer(new LumpQuestion(LumpGrouping.LAYER, filter));
		var shares = new ArrayList<String>();
		LumpDurations.DAYS
			.forEach((day) -> shares.addAll(List.of("present_" + day + "_low", "present_" + day + "_high")));
		tables
			.guard(this.lumpFigures.groups(answer.groups(), Function.<String>identity()::apply,
					(layer) -> layer.equals(LumpGrouping.UNKNOWN) ? this.words.text("outcome.lumps.group.unknown")
							: this.words.word("layer", layer)),
					"lumps")
			.counts(1, "patients", "lumps", "right_censored", "recurrent")
			.parts("lumps", "right_censored")
			.parts("lumps", "recurrent")
			.from(List.of("patients", "lumps"), "median_left_day", "median_right_day")
			.estimatedShares("lumps", shares.toArray(String[]::new));
	}

	private void complications(OutsideTables tables, OutcomeFilter filter) {
		var rates = this.complications.rates(filter, ComplicationGrouping.NONE, null);
		tables.guard(this.complicationsPage.rates(rates, ComplicationGrouping.NONE, Function.identity()), "sessions")
			.counts(1, "patients", "sessions")
			.counts(2, "sessions_with_finding")
			.parts("sessions", "sessions_with_finding")
			.from(List.of("patients", "sessions", "sessions_with_finding"), "rate", "wilson_low", "wilson_high",
					"design_effect", "low", "high");
		tables.guard(this.complicationsPage.beside(rates, ComplicationGrouping.NONE, Function.identity()), "sessions")
			.counts(1, "patients", "sessions", "unobserved")
			.counts(2, "patients_with_finding", "findings", "unresolved")
			.parts("patients", "patients_with_finding")
			.parts("findings", "unresolved")
			.parts("sessions", "unobserved")
			.from(List.of("patients", "patients_with_finding"), "patient_rate", "patient_low", "patient_high");
	}

}
