package org.seriatim.outcome.web;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.IntStream;

import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.seriatim.outcome.domain.FollowedSessions;
import org.seriatim.outcome.domain.RatingAgreement;
import org.seriatim.outcome.domain.RatingRepeatability;
import org.seriatim.outcome.web.Figures.Format;
import org.seriatim.shell.Plot;
import org.seriatim.statistics.Detectability;
import org.seriatim.treatment.Protocols;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** How well ratings agree, and what is still needed to tell a change from their error. */
@Controller
class RepeatabilityController {

	private static final String PATH = "/outcomes/repeatability";

	/** More points are a cloud, and make a page heavy. */
	private static final int MOST_DRAWN = 400;

	private static final FilterReader.Extra TABLE = FilterReader.Extra.ofWords("table", "outcome.repeatability",
			"error", List.of("error", "depths", "grades", "pairs"));

	private final FilterReader filters;

	private final RatingRepeatability ratings;

	private final FollowedSessions sessions;

	private final Protocols protocols;

	private final OutcomeWords words;

	RepeatabilityController(FilterReader filters, RatingRepeatability ratings, FollowedSessions sessions,
			Protocols protocols, OutcomeWords words) {
		this.filters = filters;
		this.ratings = ratings;
		this.sessions = sessions;
		this.protocols = protocols;
		this.words = words;
	}

	@GetMapping(PATH)
	ModelAndView show(@RequestParam Map<String, String> sent) {
		var bar = this.filters.read(PATH, sent);
		var title = this.words.text("outcome.repeatability.title");
		var lead = this.words.text("outcome.repeatability.lead");
		if (bar.isWrong()) {
			return new ModelAndView("outcome/view",
					Map.of("page", new OutcomeView(title, lead, bar, null, List.of(), List.of())),
					HttpStatus.BAD_REQUEST);
		}
		var agreement = this.ratings.agreement(bar.filter());
		return new ModelAndView("outcome/view", "page",
				new OutcomeView(title, lead, bar, this.sessions.flow(bar.filter()),
						List.of(this.words.text("outcome.repeatability.filters")),
						List.of(error(agreement, bar), depths(agreement, bar), grades(agreement, bar))));
	}

	@GetMapping(PATH + ".csv")
	void file(@RequestParam Map<String, String> sent, HttpServletResponse response) throws IOException {
		var bar = this.filters.read(PATH, sent, TABLE);
		if (bar.isWrong()) {
			FigureFile.refuse(bar, response);
			return;
		}
		var agreement = this.ratings.agreement(bar.filter());
		FigureFile.write(switch (bar.chosen("table")) {
			case "depths" -> depthFigures(agreement);
			case "grades" -> gradeFigures(agreement);
			case "pairs" -> pairFigures(agreement.pairs());
			default -> errorFigures(agreement);
		}, response);
	}

	Figures errorFigures(RatingAgreement agreement) {
		var protocol = this.protocols.current();
		var table = Figures.named("error", this.words.text("outcome.repeatability.error.caption"), this.words)
			.column("raters", Format.NAME)
			.counts("pairs_rated", "patients")
			.column("sem_log", Format.THOUSANDTHS)
			.column("sdc_log", Format.THOUSANDTHS)
			.column("sdc_percent", Format.PERCENT)
			.counts("pairs_missing", "patients_missing");
		error(table, "between", agreement.error().between(), protocol.repeatabilityPairs(),
				protocol.repeatabilityPatients());
		error(table, "within", agreement.error().within(), protocol.repeatabilityPairs(),
				protocol.repeatabilityPatients());
		return table.done();
	}

	/**
	 * Counts stand always, figures only with as many pairs and patients as advice needs.
	 */
	private void error(Figures.Builder table, String raters, Detectability.@Nullable Known known, int pairsNeeded,
			int patientsNeeded) {
		int pairs = (known != null) ? known.pairs() : 0;
		int patients = (known != null) ? known.patients() : 0;
		boolean enough = pairs >= pairsNeeded && patients >= patientsNeeded;
		var row = table.row().name(raters, raters(raters)).number(pairs).number(patients);
		if (known != null && enough) {
			row.number(known.standardError())
				.number(known.smallestChange())
				.number(100 * -Math.expm1(-known.smallestChange()));
		}
		else {
			row.number((Number) null).number((Number) null).number((Number) null);
		}
		row.number(Math.max(0, pairsNeeded - pairs)).number(Math.max(0, patientsNeeded - patients)).end();
	}

	private String raters(String raters) {
		return this.words.text("outcome.repeatability." + raters.toLowerCase(Locale.ROOT));
	}

	private OutcomeView.Section error(RatingAgreement agreement, FilterBar bar) {
		var protocol = this.protocols.current();
		var section = new OutcomeView.Writing("error", this.words.text("outcome.repeatability.error"))
			.lead(this.words.text("outcome.repeatability.error.lead"))
			.table(errorFigures(agreement), PATH + ".csv" + bar.query())
			.say(this.words.text("outcome.repeatability.needed", protocol.repeatabilityPairs(),
					protocol.repeatabilityPatients()));
		var pairs = agreement.pairs();
		int every = Math.max(1, (pairs.size() + MOST_DRAWN - 1) / MOST_DRAWN);
		var chosen = IntStream.range(0, pairs.size()).filter((i) -> i % every == 0).mapToObj(pairs::get).toList();
		var plotted = chosen.stream().filter((pair) -> pair.first() > 0 && pair.second() > 0).toList();
		if (!plotted.isEmpty()) {
			var series = java.util.Arrays.stream(RatingAgreement.Raters.values())
				.map((raters) -> new Plot.Series(raters(raters.name()), Plot.Shape.POINTS,
						plotted.stream()
							.filter((pair) -> pair.raters() == raters)
							.map((pair) -> new Plot.Point((pair.first() + pair.second()) / 2,
									Math.log(pair.second() / pair.first())))
							.toList()))
				.toList();
			section.draw(new OutcomeView.Drawing(this.words.text("outcome.repeatability.plot"),
					this.words.text("outcome.repeatability.plot.summary"),
					new Plot(Plot.Axis.number(this.words.text("outcome.axis.mean-depth")),
							Plot.Axis.number(this.words.text("outcome.axis.log-difference"), null, null), series,
							List.of(Plot.Mark.level(0, this.words.text("outcome.repeatability.same")))),
					pairFigures(chosen), this.words.text("outcome.repeatability.drawn", plotted.size(), pairs.size()),
					PATH + ".csv" + bar.query("table", "pairs")));
		}
		return section.done();
	}

	private Figures pairFigures(List<RatingAgreement.Pair> pairs) {
		var table = Figures.named("pairs", this.words.text("outcome.repeatability.pairs.caption"), this.words)
			.column("raters", Format.NAME)
			.column("first_mm", Format.HUNDREDTHS)
			.column("second_mm", Format.HUNDREDTHS);
		for (var pair : pairs) {
			var word = pair.raters().name().toLowerCase(Locale.ROOT);
			table.row().name(word, raters(word)).number(pair.first()).number(pair.second()).end();
		}
		return table.done();
	}

	private Figures depthFigures(RatingAgreement agreement) {
		var table = Figures.named("depths", this.words.text("outcome.repeatability.depths.caption"), this.words)
			.column("raters", Format.NAME)
			.counts("pairs_rated", "patients")
			.column("icc", Format.HUNDREDTHS)
			.limits("low", "high", Format.HUNDREDTHS)
			.column("sem_mm", Format.THOUSANDTHS)
			.column("sdc_mm", Format.THOUSANDTHS);
		for (var row : agreement.depths()) {
			var word = row.raters().name().toLowerCase(Locale.ROOT);
			table.row()
				.name(word, raters(word))
				.number(row.pairs())
				.number(row.patients())
				.number(row.icc())
				.limits(row.limits())
				.number(row.standardErrorMm())
				.number(row.smallestChangeMm())
				.end();
		}
		return table.done();
	}

	private OutcomeView.Section depths(RatingAgreement agreement, FilterBar bar) {
		return new OutcomeView.Writing("depths", this.words.text("outcome.repeatability.depths"))
			.lead(this.words.text("outcome.repeatability.depths.lead"))
			.table(depthFigures(agreement), PATH + ".csv" + bar.query("table", "depths"))
			.say(this.words.text("outcome.repeatability.few", RatingAgreement.FEWEST_PAIRS))
			.done();
	}

	private Figures gradeFigures(RatingAgreement agreement) {
		var table = Figures.named("grades", this.words.text("outcome.repeatability.grades.caption"), this.words)
			.column("measure", Format.NAME)
			.column("raters", Format.NAME)
			.counts("pairs_rated", "patients")
			.column("same", Format.SHARE)
			.column("kappa", Format.HUNDREDTHS)
			.limits("low", "high", Format.HUNDREDTHS);
		for (var row : agreement.grades()) {
			var word = row.raters().name().toLowerCase(Locale.ROOT);
			table.row()
				.name(row.measure(), this.words.text("outcome.repeatability.measure." + row.measure()))
				.name(word, raters(word))
				.number(row.pairs())
				.number(row.patients())
				.number(row.same())
				.number(row.kappa())
				.limits(row.limits())
				.end();
		}
		return table.done();
	}

	private OutcomeView.Section grades(RatingAgreement agreement, FilterBar bar) {
		return new OutcomeView.Writing("grades", this.words.text("outcome.repeatability.grades"))
			.lead(this.words.text("outcome.repeatability.grades.lead"))
			.table(gradeFigures(agreement), PATH + ".csv" + bar.query("table", "grades"))
			.say(this.words.text("outcome.repeatability.few", RatingAgreement.FEWEST_PAIRS))
			.done();
	}

}
