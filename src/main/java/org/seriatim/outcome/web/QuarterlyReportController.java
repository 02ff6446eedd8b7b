package org.seriatim.outcome.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Repeatability;
import org.seriatim.outcome.domain.ComplicationGrouping;
import org.seriatim.outcome.domain.Complications;
import org.seriatim.outcome.domain.DataQuality;
import org.seriatim.outcome.domain.FaceImprovement;
import org.seriatim.outcome.domain.FollowedSessions;
import org.seriatim.outcome.domain.LumpDurations;
import org.seriatim.outcome.domain.LumpGrouping;
import org.seriatim.outcome.domain.LumpQuestion;
import org.seriatim.outcome.domain.OutcomeFilter;
import org.seriatim.outcome.domain.RatingRepeatability;
import org.seriatim.outcome.domain.ReviewSignals;
import org.seriatim.outcome.domain.ScarImprovement;
import org.seriatim.shell.Written;
import org.seriatim.treatment.Protocols;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/**
 * The figures of one quarter on paper, with their definitions and versions at the end.
 */
@Controller
class QuarterlyReportController {

	private final FollowedSessions sessions;

	private final ScarImprovement scars;

	private final FaceImprovement faces;

	private final Complications complications;

	private final LumpDurations lumps;

	private final RatingRepeatability ratings;

	private final DataQuality quality;

	private final ReviewSignals reviews;

	private final Protocols protocols;

	private final ImprovementPage improvementPage;

	private final ComplicationsPage complicationsPage;

	private final LumpFigures lumpFigures;

	private final RepeatabilityController repeatability;

	private final DataQualityController qualityPage;

	private final PractitionerLabels labels;

	private final OutcomeWords words;

	private final Clock clock;

	QuarterlyReportController(FollowedSessions sessions, ScarImprovement scars, FaceImprovement faces,
			Complications complications, LumpDurations lumps, RatingRepeatability ratings, DataQuality quality,
			ReviewSignals reviews, Protocols protocols, ImprovementPage improvementPage,
			ComplicationsPage complicationsPage, LumpFigures lumpFigures, RepeatabilityController repeatability,
			DataQualityController qualityPage, PractitionerLabels labels, OutcomeWords words, Clock clock) {
		this.sessions = sessions;
		this.scars = scars;
		this.faces = faces;
		this.complications = complications;
		this.lumps = lumps;
		this.ratings = ratings;
		this.quality = quality;
		this.reviews = reviews;
		this.protocols = protocols;
		this.improvementPage = improvementPage;
		this.complicationsPage = complicationsPage;
		this.lumpFigures = lumpFigures;
		this.repeatability = repeatability;
		this.qualityPage = qualityPage;
		this.labels = labels;
		this.words = words;
		this.clock = clock;
	}

	@GetMapping("/outcomes/report")
	ModelAndView report(@RequestParam(required = false) @Nullable String quarter) {
		var today = LocalDate.now(this.clock);
		var offered = Quarter.upTo(today);
		var model = new HashMap<String, @Nullable Object>();
		model.put("offered", offered.stream().map(Quarter::toString).toList());
		var asked = (quarter == null || quarter.isBlank()) ? java.util.Optional.of(offered.get(1))
				: Quarter.of(quarter.strip());
		model.put("chosen", asked.map(Quarter::toString).orElse(quarter));
		model.put("wrong", asked.isEmpty());
		if (asked.isEmpty()) {
			return new ModelAndView("outcome/report", model, HttpStatus.BAD_REQUEST);
		}
		var filter = OutcomeFilter.NONE.between(asked.get().first(), asked.get().last());
		var period = "?from=" + filter.from() + "&to=" + filter.to();
		model.put("days", this.words.text("outcome.report.days", Written.day(asked.get().first()),
				Written.day(asked.get().last())));
		model.put("made", Written.day(today));
		model.put("flow", this.sessions.flow(filter));
		model.put("none", List.of());
		model.put("sections", sections(filter, period));
		model.put("definitions", definitions(today));
		return new ModelAndView("outcome/report", model);
	}

	private List<OutcomeView.Section> sections(OutcomeFilter filter, String period) {
		var sections = new ArrayList<OutcomeView.Section>();
		var improvement = this.scars.answer(filter);
		var scarSection = new OutcomeView.Writing("scars", this.words.text("outcome.improvement.scars"))
			.table(this.improvementPage.scars(improvement.figures()), "/outcomes/improvement.csv" + period);
		if (improvement.error().orElse(null) instanceof Repeatability.Known) {
			scarSection.table(this.improvementPage.changed(improvement.figures()),
					"/outcomes/improvement.csv" + period + "&table=changed");
		}
		sections.add(scarSection.say(this.words.text("outcome.improvement.left-out", improvement.figures().noBaseline(),
				improvement.figures().notComparable(), improvement.figures().notFollowed()))
			.done());
		sections.add(new OutcomeView.Writing("face", this.words.text("outcome.improvement.face"))
			.table(this.improvementPage.gais(this.faces.gais(filter)),
					"/outcomes/improvement.csv" + period + "&table=gais")
			.table(this.improvementPage.changes("scales", this.faces.scales(filter)),
					"/outcomes/improvement.csv" + period + "&table=scales")
			.say(this.words.text("outcome.improvement.scales.note"))
			.done());
		var pores = this.faces.pores(filter);
		sections.add(new OutcomeView.Writing("pores", this.words.text("outcome.improvement.pores"))
			.table(this.improvementPage.changes("pores", pores.grades()),
					"/outcomes/improvement.csv" + period + "&table=pores")
			.table(this.improvementPage.changes("pore_density", pores.densities()),
					"/outcomes/improvement.csv" + period + "&table=pore_density")
			.done());
		var answer = this.lumps.answer(new LumpQuestion(LumpGrouping.LAYER, filter));
		sections.add(new OutcomeView.Writing("lumps", this.words.text("outcome.lumps.title"))
			.table(this.lumpFigures.groups(answer.groups(), (value) -> value, this::layer),
					"/outcomes/lumps.csv" + period + "&group=layer")
			.caution(this.words.text("outcome.lumps.limitation"))
			.done());
		var names = this.labels.ofPage();
		var read = this.complications.read(filter, null);
		sections.add(new OutcomeView.Writing("complications", this.words.text("outcome.complications.title"))
			.table(this.complicationsPage.rates(read.rates(ComplicationGrouping.NONE), ComplicationGrouping.NONE,
					names), "/outcomes/complications.csv" + period)
			.table(this.complicationsPage.beside(read.rates(ComplicationGrouping.NONE), ComplicationGrouping.NONE,
					names), "/outcomes/complications.csv" + period + "&table=beside")
			.table(this.complicationsPage.rates(read.rates(ComplicationGrouping.PRACTITIONER),
					ComplicationGrouping.PRACTITIONER, names),
					"/outcomes/complications.csv" + period + "&group=practitioner")
			.say(this.words.text("outcome.complications.left-out", this.complications.withoutSession(null)))
			.say(this.words.text("outcome.report.reviews", openedIn(filter, false), openedIn(filter, true)))
			.caution(this.words.text("outcome.signals.no-verdict"))
			.done());
		sections.add(
				new OutcomeView.Writing("repeatability", this.words.text("outcome.repeatability.title"))
					.table(this.repeatability.errorFigures(this.ratings.agreement(filter)),
							"/outcomes/repeatability.csv" + period)
					.done());
		sections.add(
				new OutcomeView.Writing("quality", this.words.text("outcome.quality.title"))
					.table(this.qualityPage.quarters(this.quality.answer(filter)),
							"/outcomes/data-quality.csv" + period + "&table=quarters")
					.done());
		return sections;
	}

	private String layer(String value) {
		return value.equals(LumpGrouping.UNKNOWN) ? this.words.text("outcome.lumps.group.unknown")
				: this.words.word("layer", value);
	}

	private long openedIn(OutcomeFilter filter, boolean ended) {
		return this.reviews.all()
			.stream()
			.filter((review) -> !review.openedOn().isBefore(Objects.requireNonNull(filter.from()))
					&& !review.openedOn().isAfter(Objects.requireNonNull(filter.to())))
			.filter((review) -> !ended || review.look().ended())
			.count();
	}

	/** What the figures mean, and the versions that made them. */
	List<String> definitions(LocalDate today) {
		var version = Objects
			.requireNonNullElse(QuarterlyReportController.class.getPackage().getImplementationVersion(), "development");
		return List.of(this.words.text("outcome.report.definition.flow"),
				this.words.text("outcome.report.definition.improvement"),
				this.words.text("outcome.report.definition.lumps"),
				this.words.text("outcome.report.definition.complications"),
				this.words.text("outcome.complications.beside.note"),
				this.words.text("outcome.report.definition.error"), this.words.text("outcome.report.definition.inside"),
				this.words.text("outcome.report.versions", Written.day(today), this.protocols.current().number(),
						version));
	}

}
