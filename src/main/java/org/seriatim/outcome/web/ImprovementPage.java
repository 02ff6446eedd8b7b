package org.seriatim.outcome.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Repeatability;
import org.seriatim.assessment.ScarType;
import org.seriatim.outcome.ExpectedGain;
import org.seriatim.outcome.ExpectedGains;
import org.seriatim.outcome.domain.ChangeFigures;
import org.seriatim.outcome.domain.FaceImprovement;
import org.seriatim.outcome.domain.GaisFigures;
import org.seriatim.outcome.domain.ImprovementFigures;
import org.seriatim.outcome.domain.ScarImprovement;
import org.seriatim.outcome.web.Figures.Format;
import org.seriatim.shell.Plot;
import org.seriatim.shell.Written;
import org.seriatim.statistics.Detectability;
import org.springframework.stereotype.Component;

/** The improvement of scars and faces as tables and plots. */
@Component
class ImprovementPage {

	/** More lines behind a mean are a grey area, and make a page heavy. */
	private static final int MOST_COURSES = 150;

	private final OutcomeWords words;

	ImprovementPage(OutcomeWords words) {
		this.words = words;
	}

	/** The columns of the file are fixed for scripts that read it. */
	Figures scars(ImprovementFigures figures) {
		var table = Figures.named("scars", this.words.text("outcome.improvement.scars.caption"), this.words)
			.column("group", Format.NAME)
			.counts("stage", "patients", "scars")
			.column("mean_percent", Format.PERCENT)
			.column("standard_error", Format.TENTHS)
			.limits("low", "high", Format.PERCENT)
			.counts("resolved", "grade_scars")
			.column("mean_grade_change", Format.HUNDREDTHS);
		for (var row : figures.rows()) {
			table.row()
				.name(row.type().word(), type(row.type()))
				.number(row.stage())
				.number(row.patients())
				.number(row.scars())
				.number(row.mean())
				.number(row.standardError())
				.limits(row.limits())
				.number(row.resolved())
				.number(row.gradeScars())
				.number(row.meanGradeChange())
				.end();
		}
		return table.done();
	}

	Figures changed(ImprovementFigures figures) {
		var table = Figures.named("changed", this.words.text("outcome.improvement.changed.caption"), this.words)
			.column("group", Format.NAME)
			.counts("stage", "patients", "scars", "better_scars")
			.column("better", Format.SHARE)
			.limits("better_low", "better_high", Format.SHARE)
			.counts("worse_scars")
			.column("worse", Format.SHARE)
			.limits("worse_low", "worse_high", Format.SHARE);
		for (var row : figures.rows()) {
			if (row.scars() > 0) {
				var line = table.row()
					.name(row.type().word(), type(row.type()))
					.number(row.stage())
					.number(row.patients())
					.number(row.scars());
				share(line, row.better());
				share(line, row.worse()).end();
			}
		}
		return table.done();
	}

	private static Figures.Builder.Row share(Figures.Builder.Row line, ImprovementFigures.@Nullable Share share) {
		return line.number((share != null) ? share.scars() : null)
			.number((share != null) ? share.share() : null)
			.limits((share != null) ? share.limits() : null);
	}

	Figures gais(GaisFigures figures) {
		var table = Figures.named("gais", this.words.text("outcome.improvement.gais.caption"), this.words)
			.column("judged_by", Format.NAME)
			.counts("stage", "patients", "judgements");
		for (int level : GaisFigures.LEVELS) {
			table.column("gais_" + ((level < 0) ? "worse" : level), Format.SHARE);
		}
		for (var row : figures.rows()) {
			var line = table.row()
				.name(row.judgedBy(), this.words.word("reporter", row.judgedBy()))
				.number(row.stage())
				.number(row.patients())
				.number(row.judgements());
			for (int i = 0; i < GaisFigures.LEVELS.size(); i++) {
				line.number(row.shares().isEmpty() ? null : row.shares().get(i));
			}
			line.end();
		}
		return table.done();
	}

	Figures changes(String word, ChangeFigures figures) {
		var table = Figures.named(word, this.words.text("outcome.improvement." + word + ".caption"), this.words)
			.column(word.equals("scales") ? "item" : "region", Format.NAME)
			.counts("stage", "patients", "pairs")
			.column("mean_before", Format.HUNDREDTHS)
			.column("mean_after", Format.HUNDREDTHS)
			.column("mean_change", Format.HUNDREDTHS)
			.column("standard_error", Format.HUNDREDTHS)
			.limits("low", "high", Format.HUNDREDTHS);
		for (var row : figures.rows()) {
			table.row()
				.name(row.subject(), this.words.word(word.equals("scales") ? "outcome.item" : "region", row.subject()))
				.number(row.stage())
				.number(row.patients())
				.number(row.pairs())
				.number(row.before())
				.number(row.after())
				.number(row.change())
				.number(row.standardError())
				.limits(row.limits())
				.end();
		}
		return table.done();
	}

	OutcomeView.Section scarSection(ScarImprovement.Answer answer, FilterBar bar) {
		var figures = answer.figures();
		var table = scars(figures);
		var section = new OutcomeView.Writing("scars", this.words.text("outcome.improvement.scars"))
			.lead(this.words.text("outcome.improvement.scars.lead"))
			.table(table, "/outcomes/improvement.csv" + bar.query());
		for (ScarType type : ScarType.values()) {
			drawing(type, figures, table).ifPresent(section::draw);
		}
		return section.say(this.words.text("outcome.improvement.fewest", ImprovementFigures.FEWEST_PATIENTS)).done();
	}

	/** Drawn from the same rows that the table writes. */
	private Optional<OutcomeView.Drawing> drawing(ScarType type, ImprovementFigures figures, Figures table) {
		var points = new ArrayList<Plot.Point>(List.of(new Plot.Point(0, 0.0)));
		for (var row : figures.rows()) {
			if (row.type() == type && row.mean().isPresent()) {
				points.add(new Plot.Point(row.stage(), row.mean().getAsDouble(),
						(row.limits() != null) ? row.limits().low() : null,
						(row.limits() != null) ? row.limits().high() : null));
			}
		}
		if (points.size() == 1) {
			return Optional.empty();
		}
		var courses = figures.courses().getOrDefault(type, List.of());
		int every = Math.max(1, (courses.size() + MOST_COURSES - 1) / MOST_COURSES);
		var behind = new ArrayList<List<Plot.Point>>();
		for (int i = 0; i < courses.size(); i += every) {
			behind.add(Stream
				.concat(Stream.of(new Plot.Point(0, 0.0)),
						courses.get(i).steps().stream().map((step) -> new Plot.Point(step.stage(), step.percent())))
				.toList());
		}
		var plot = new Plot(Plot.Axis.number(this.words.text("outcome.axis.stage")),
				Plot.Axis.number(this.words.text("outcome.axis.improvement"), null, null),
				List.of(new Plot.Series(this.words.text("outcome.improvement.mean"), Plot.Shape.LINE, points)),
				List.of(), behind);
		var ofType = new Figures(table.word(), table.caption(), table.columns(),
				table.rows().stream().filter((row) -> type.word().equals(row.get(0).value())).toList());
		return Optional.of(new OutcomeView.Drawing(type(type),
				this.words.text("outcome.improvement.plot.summary", type(type)), plot, ofType,
				this.words.text("outcome.improvement.plot.note", behind.size(), courses.size()), null));
	}

	OutcomeView.Section changedSection(ScarImprovement.Answer answer, FilterBar bar) {
		var section = new OutcomeView.Writing("changed", this.words.text("outcome.improvement.changed"))
			.lead(this.words.text("outcome.improvement.changed.lead"));
		if (answer.error().orElse(null) instanceof Repeatability.Known known) {
			section.table(changed(answer.figures()), "/outcomes/improvement.csv" + bar.query("table", "changed"))
				.say(this.words.text("outcome.improvement.sdc." + known.raters().name().toLowerCase(Locale.ROOT),
						Written.number(known.smallestDetectableChange(), 3),
						Written.number(100 * -Math.expm1(-known.smallestDetectableChange()), 0), known.error().pairs(),
						known.error().patients()));
		}
		else if (answer.error().orElse(null) instanceof Repeatability.TooFew few) {
			section.say(this.words.text("outcome.improvement.sdc.too-few", few.pairsNeeded(), few.patientsNeeded(),
					pairs(few.ratings().between()), patients(few.ratings().between()), pairs(few.ratings().within()),
					patients(few.ratings().within())));
		}
		else {
			section.say(this.words.text("outcome.improvement.sdc.none"));
		}
		return section.link("/outcomes/repeatability", this.words.text("outcome.improvement.sdc.link")).done();
	}

	private static int pairs(Detectability.@Nullable Known known) {
		return (known != null) ? known.pairs() : 0;
	}

	private static int patients(Detectability.@Nullable Known known) {
		return (known != null) ? known.patients() : 0;
	}

	OutcomeView.Section faceSection(GaisFigures gais, ChangeFigures scales, FilterBar bar) {
		return new OutcomeView.Writing("face", this.words.text("outcome.improvement.face"))
			.lead(this.words.text("outcome.improvement.face.lead"))
			.table(gais(gais), "/outcomes/improvement.csv" + bar.query("table", "gais"))
			.table(changes("scales", scales), "/outcomes/improvement.csv" + bar.query("table", "scales"))
			.say(this.words.text("outcome.improvement.scales.note"))
			.done();
	}

	OutcomeView.Section poreSection(FaceImprovement.PoreFigures pores, FilterBar bar) {
		return new OutcomeView.Writing("pores", this.words.text("outcome.improvement.pores"))
			.table(changes("pores", pores.grades()), "/outcomes/improvement.csv" + bar.query("table", "pores"))
			.table(changes("pore_density", pores.densities()),
					"/outcomes/improvement.csv" + bar.query("table", "pore_density"))
			.done();
	}

	/** The columns of the file are fixed for scripts that read it. */
	Figures gains(List<ExpectedGain> gains) {
		var table = Figures.named("gain", this.words.text("outcome.gain.caption"), this.words)
			.column("group", Format.NAME)
			.counts("series_session", "patients", "scars", "resolved")
			.column("gain_percent", Format.PERCENT)
			.limits("low", "high", Format.PERCENT)
			.column("method", Format.NAME);
		for (var gain : gains) {
			var change = gain.change();
			var method = (change != null) ? change.method().name().toLowerCase(Locale.ROOT) : "too_few";
			table.row()
				.name(gain.type().word(), type(gain.type()))
				.number(gain.session())
				.number(gain.patients())
				.number(gain.scars())
				.number(gain.resolved())
				.number((change != null) ? change.percent() : null)
				.number((change != null) ? change.low() : null)
				.number((change != null) ? change.high() : null)
				.name(method, this.words.text("outcome.gain.method." + method))
				.end();
		}
		return table.done();
	}

	OutcomeView.Section gainSection(Optional<ExpectedGains.Kept> kept, FilterBar bar) {
		var section = new OutcomeView.Writing("gain", this.words.text("outcome.gain"))
			.lead(this.words.text("outcome.gain.lead"));
		if (kept.isEmpty()) {
			return section.say(this.words.text("outcome.gain.none")).done();
		}
		var table = gains(kept.get().gains());
		for (ScarType type : ScarType.values()) {
			gainDrawing(type, kept.get().gains(), table).ifPresent(section::draw);
		}
		return section.table(table, "/outcomes/improvement.csv" + bar.query("table", "gain"))
			.say(this.words.text("outcome.gain.basis", kept.get().snapshot(), Written.day(kept.get().asOf()),
					ExpectedGain.FEWEST_PATIENTS))
			.caution(this.words.text("outcome.gain.caution"))
			.done();
	}

	/** Drawn from the same gains that the table writes. */
	private Optional<OutcomeView.Drawing> gainDrawing(ScarType type, List<ExpectedGain> gains, Figures table) {
		var points = new ArrayList<Plot.Point>();
		for (var gain : gains) {
			var change = gain.change();
			if (gain.type() == type && change != null) {
				points.add(new Plot.Point(gain.session(), change.percent(), change.low(), change.high()));
			}
		}
		if (points.isEmpty()) {
			return Optional.empty();
		}
		var plot = new Plot(Plot.Axis.number(this.words.text("outcome.axis.session")),
				Plot.Axis.number(this.words.text("outcome.axis.gain"), null, null),
				List.of(new Plot.Series(this.words.text("outcome.gain.mean"), Plot.Shape.POINTS, points)),
				List.of(Plot.Mark.level(0, this.words.text("outcome.gain.nothing"))));
		var ofType = new Figures(table.word(), table.caption(), table.columns(),
				table.rows().stream().filter((row) -> type.word().equals(row.get(0).value())).toList());
		return Optional.of(new OutcomeView.Drawing(type(type), this.words.text("outcome.gain.summary", type(type)),
				plot, ofType, null, null));
	}

	private String type(ScarType type) {
		return this.words.word("scar-type", type.word());
	}

}
