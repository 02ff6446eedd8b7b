package org.seriatim.outcome.web;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.UnaryOperator;

import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.seriatim.outcome.domain.FollowedSessions;
import org.seriatim.outcome.domain.LumpDurations;
import org.seriatim.outcome.domain.LumpGrouping;
import org.seriatim.outcome.domain.LumpQuestion;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** How long lumps last: the page and its files, all with the same figures. */
@Controller
class LumpsController {

	private static final String PATH = "/outcomes/lumps";

	private static final FilterReader.Extra GROUP = FilterReader.Extra.ofWords("group", "outcome.lumps.group", "none",
			Arrays.stream(LumpGrouping.values()).map(LumpGrouping::word).toList());

	private static final FilterReader.Extra TABLE = FilterReader.Extra.ofWords("table", "outcome.effects", "effects",
			List.of("effects", "checks"));

	private final LumpDurations durations;

	private final FilterReader filters;

	private final FollowedSessions sessions;

	private final PractitionerLabels labels;

	private final LumpEffectsPage effects;

	private final LumpFigures figures;

	private final OutcomeWords words;

	LumpsController(LumpDurations durations, FilterReader filters, FollowedSessions sessions, PractitionerLabels labels,
			LumpEffectsPage effects, LumpFigures figures, OutcomeWords words) {
		this.durations = durations;
		this.filters = filters;
		this.sessions = sessions;
		this.labels = labels;
		this.effects = effects;
		this.figures = figures;
		this.words = words;
	}

	@GetMapping(PATH)
	ModelAndView page(@RequestParam Map<String, String> sent) {
		var bar = this.filters.read(PATH, sent, GROUP);
		var model = new HashMap<String, @Nullable Object>();
		model.put("bar", bar);
		if (bar.isWrong()) {
			return new ModelAndView("outcome/lumps", model, HttpStatus.BAD_REQUEST);
		}
		var answer = this.durations.answer(question(bar));
		var names = this.labels.ofPageByName();
		model.put("flow", this.sessions.flow(bar.filter()));
		model.put("leftOut", List.of());
		model.put("page", LumpsPage.of(answer, bar.query(), names, (key) -> this.words.text(key)));
		model.put("sections", this.effects.sections(answer, bar, names));
		return new ModelAndView("outcome/lumps", model);
	}

	@GetMapping("/outcomes/lumps.csv")
	void groups(@RequestParam Map<String, String> sent, HttpServletResponse response) throws IOException {
		var bar = this.filters.read(PATH, sent, GROUP);
		if (bar.isWrong()) {
			FigureFile.refuse(bar, response);
			return;
		}
		var answer = this.durations.answer(question(bar));
		var names = names(bar);
		FigureFile.write(this.figures.groups(answer.groups(), names, names), response);
	}

	@GetMapping("/outcomes/lump-curve.csv")
	void curves(@RequestParam Map<String, String> sent, HttpServletResponse response) throws IOException {
		var bar = this.filters.read(PATH, sent, GROUP);
		if (bar.isWrong()) {
			FigureFile.refuse(bar, response);
			return;
		}
		var answer = this.durations.answer(question(bar));
		LumpCsv.writeCurves(answer.groups(), names(bar), asCsv(response).getWriter());
	}

	@GetMapping("/outcomes/lump-days.csv")
	void days(@RequestParam Map<String, String> sent, HttpServletResponse response) throws IOException {
		var bar = this.filters.read(PATH, sent, GROUP);
		if (bar.isWrong()) {
			FigureFile.refuse(bar, response);
			return;
		}
		var answer = this.durations.answer(question(bar));
		LumpCsv.writeDays(answer.groups(), names(bar), asCsv(response).getWriter());
	}

	@GetMapping("/outcomes/lump-effects.csv")
	void effects(@RequestParam Map<String, String> sent, HttpServletResponse response) throws IOException {
		var bar = this.filters.read(PATH, sent, GROUP, TABLE);
		if (bar.isWrong()) {
			FigureFile.refuse(bar, response);
			return;
		}
		var found = this.durations.answer(question(bar)).effects();
		FigureFile.write(bar.chosen("table").equals("checks") ? this.effects.checks(found)
				: this.effects.effects(found, this.labels.ofFileByName()), response);
	}

	private static LumpQuestion question(FilterBar bar) {
		return new LumpQuestion(LumpGrouping.valueOf(bar.chosen("group").toUpperCase(Locale.ROOT)), bar.filter());
	}

	/** Names only where they are asked for, since each opening is put on record. */
	private UnaryOperator<String> names(FilterBar bar) {
		return bar.chosen("group").equals(LumpGrouping.PRACTITIONER.word()) ? this.labels.ofFileByName()
				: (value) -> value;
	}

	private static HttpServletResponse asCsv(HttpServletResponse response) {
		response.setContentType(new MediaType("text", "csv", StandardCharsets.UTF_8).toString());
		return response;
	}

}
