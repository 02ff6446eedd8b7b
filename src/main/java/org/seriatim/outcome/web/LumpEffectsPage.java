package org.seriatim.outcome.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;

import org.seriatim.outcome.domain.LumpDurations;
import org.seriatim.outcome.domain.LumpEffects;
import org.seriatim.outcome.domain.LumpEffects.Factor;
import org.seriatim.outcome.web.Figures.Format;
import org.seriatim.shell.Plot;
import org.seriatim.shell.Written;
import org.springframework.stereotype.Component;

/** What goes with longer and shorter lumps, as a forest plot, a table and in words. */
@Component
class LumpEffectsPage {

	private final OutcomeWords words;

	LumpEffectsPage(OutcomeWords words) {
		this.words = words;
	}

	Figures effects(LumpEffects effects, UnaryOperator<String> practitioners) {
		var table = Figures.named("effects", this.words.text("outcome.effects.caption"), this.words)
			.column("factor", Format.NAME)
			.column("level", Format.NAME)
			.column("reference", Format.NAME)
			.counts("lumps")
			.column("time_ratio", Format.HUNDREDTHS)
			.limits("ratio_low", "ratio_high", Format.HUNDREDTHS)
			.column("reading", Format.NAME);
		for (var effect : effects.effects()) {
			var word = effect.factor().name().toLowerCase(Locale.ROOT);
			var reference = effects.references().getOrDefault(effect.factor(), "");
			table.row()
				.name(word, factor(effect.factor()))
				.name(value(effect.factor(), effect.level(), practitioners),
						level(effect.factor(), effect.level(), practitioners))
				.name(value(effect.factor(), reference, practitioners),
						level(effect.factor(), reference, practitioners))
				.number(effect.lumps())
				.number(effect.ratio())
				.limits(effect.limits())
				.name(reading(effect), reading(effect))
				.end();
		}
		return table.done();
	}

	private String factor(Factor factor) {
		return this.words.text("outcome.effects." + factor.name().toLowerCase(Locale.ROOT));
	}

	private static String value(Factor factor, String level, UnaryOperator<String> practitioners) {
		if (factor == Factor.VOLUME) {
			return "per_0.01_ml";
		}
		return (factor == Factor.PRACTITIONER) ? practitioners.apply(level) : level;
	}

	private String level(Factor factor, String level, UnaryOperator<String> practitioners) {
		return switch (factor) {
			case LAYER -> this.words.word("layer", level);
			case COMBINATION -> this.words.word("combination", level);
			case REGION -> this.words.word("region", level);
			case MASSAGE -> this.words.text("outcome.effects.massage." + level);
			case VOLUME -> this.words.text("outcome.effects.volume.unit");
			case PRACTITIONER -> practitioners.apply(level);
			case PRODUCT -> level;
		};
	}

	/** "about half as long, between 0.4 and 0.7 times". */
	String reading(LumpEffects.Effect effect) {
		var about = about(effect.ratio());
		var limits = effect.limits();
		if (limits == null) {
			return this.words.text("outcome.effects.reading.no-limits", about);
		}
		return this.words.text(
				(limits.low() <= 1 && limits.high() >= 1) ? "outcome.effects.reading.open" : "outcome.effects.reading",
				about, ratio(limits.low()), ratio(limits.high()));
	}

	private static String ratio(double ratio) {
		return Written.number(ratio, (ratio < 10) ? 1 : 0);
	}

	private String about(double ratio) {
		var word = "";
		if (ratio >= 0.95 && ratio <= 1.05) {
			word = "same";
		}
		else if (ratio >= 0.3 && ratio < 0.37) {
			word = "third";
		}
		else if (ratio >= 0.45 && ratio < 0.55) {
			word = "half";
		}
		else if (ratio >= 0.63 && ratio < 0.7) {
			word = "two-thirds";
		}
		else if (ratio >= 0.72 && ratio < 0.78) {
			word = "three-quarters";
		}
		else if (ratio >= 1.45 && ratio < 1.55) {
			word = "half-again";
		}
		else if (ratio >= 1.9 && ratio < 2.1) {
			word = "twice";
		}
		return word.isEmpty() ? this.words.text("outcome.effects.about", Written.number(ratio, (ratio < 1) ? 2 : 1))
				: this.words.text("outcome.effects.about." + word);
	}

	Figures checks(LumpEffects effects) {
		var table = Figures.named("checks", this.words.text("outcome.effects.checks"), this.words)
			.counts("day")
			.limits("seen_low", "seen_high", Format.SHARE)
			.column("modelled", Format.SHARE);
		for (var check : effects.checks()) {
			table.row().number(check.day()).limits(check.seen()).number(check.modelled()).end();
		}
		return table.done();
	}

	List<OutcomeView.Section> sections(LumpDurations.Answer answer, FilterBar bar,
			UnaryOperator<String> practitioners) {
		var sections = new ArrayList<OutcomeView.Section>();
		var test = answer.test();
		if (test != null) {
			sections.add(new OutcomeView.Writing("test", this.words.text("outcome.lumps.test"))
				.say(this.words.text("outcome.lumps.test.result", Written.number(test.chiSquare(), 2),
						test.degreesOfFreedom(), (test.pValue() < 0.001) ? "< 0.001" : Written.number(test.pValue(), 3),
						test.groups().size()))
				.say(this.words.text("outcome.lumps.test.note"))
				.done());
		}
		sections.add(effectSection(answer.effects(), bar, practitioners));
		return sections;
	}

	private OutcomeView.Section effectSection(LumpEffects effects, FilterBar bar, UnaryOperator<String> practitioners) {
		var section = new OutcomeView.Writing("effects", this.words.text("outcome.effects.title"))
			.lead(this.words.text("outcome.effects.lead"));
		if (effects.problem() != null) {
			return section
				.say(this.words.text("outcome.effects.problem." + effects.problem().name().toLowerCase(Locale.ROOT),
						LumpEffects.LUMPS_FOR_EACH, LumpEffects.FEWEST_LUMPS, LumpEffects.FEWEST_PATIENTS))
				.done();
		}
		var table = effects(effects, practitioners);
		var names = new ArrayList<String>();
		var points = new ArrayList<Plot.Point>();
		// from the bottom up, as an axis counts, so that the first stands at the top
		for (int i = effects.effects().size() - 1; i >= 0; i--) {
			var effect = effects.effects().get(i);
			names.add((effect.factor() == Factor.VOLUME) ? factor(effect.factor())
					: factor(effect.factor()) + ": " + level(effect.factor(), effect.level(), practitioners));
			var limits = effect.limits();
			points.add(new Plot.Point(effect.ratio(), (double) points.size(), (limits != null) ? limits.low() : null,
					(limits != null) ? limits.high() : null));
		}
		var plot = new Plot(Plot.Axis.ratio(this.words.text("outcome.axis.time-ratio")),
				Plot.Axis.categories(this.words.text("outcome.axis.compared"), names),
				List.of(new Plot.Series(this.words.text("outcome.effects.series"), Plot.Shape.LYING, points)),
				List.of(Plot.Mark.at(1, this.words.text("outcome.effects.none"))));
		section.caution(this.words.text("outcome.effects.caution"))
			.draw(new OutcomeView.Drawing(this.words.text("outcome.effects.plot"),
					this.words.text("outcome.effects.summary"), plot, table,
					this.words.text("outcome.effects.note", effects.lumps(), effects.patients(), effects.leftOut()),
					null))
			.table(table, "/outcomes/lump-effects.csv" + bar.query())
			.table(checks(effects), "/outcomes/lump-effects.csv" + bar.query("table", "checks"))
			.say(this.words.text("outcome.effects.shape", Written.number(effects.shape().orElse(1), 2)));
		if (!effects.notEntered().isEmpty()) {
			section.say(this.words.text("outcome.effects.not-entered",
					effects.notEntered().stream().map(this::factor).collect(Collectors.joining(", ")),
					LumpEffects.LUMPS_FOR_EACH));
		}
		return section.done();
	}

}
