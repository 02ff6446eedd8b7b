package org.seriatim.outcome.web;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.Locale;

import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.seriatim.outcome.domain.LumpDurations;
import org.seriatim.outcome.domain.LumpGrouping;
import org.seriatim.outcome.domain.LumpQuestion;
import org.springframework.context.MessageSource;
import org.springframework.http.MediaType;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** How long lumps last: the page and its two files, all with the same figures. */
@Controller
class LumpsController {

	private final LumpDurations durations;

	private final MessageSource messages;

	LumpsController(LumpDurations durations, MessageSource messages) {
		this.durations = durations;
		this.messages = messages;
	}

	@GetMapping("/outcomes/lumps")
	ModelAndView page(@RequestParam(defaultValue = "none") LumpGrouping group,
			@RequestParam(required = false) @Nullable LocalDate from,
			@RequestParam(required = false) @Nullable LocalDate to, Locale locale) {
		return new ModelAndView("outcome/lumps", "page",
				LumpsPage.of(this.durations.answer(new LumpQuestion(group, from, to)),
						(key) -> this.messages.getMessage(key, null, locale)));
	}

	@GetMapping("/outcomes/lumps.csv")
	void groups(@RequestParam(defaultValue = "none") LumpGrouping group,
			@RequestParam(required = false) @Nullable LocalDate from,
			@RequestParam(required = false) @Nullable LocalDate to, HttpServletResponse response) throws IOException {
		var answer = this.durations.answer(new LumpQuestion(group, from, to));
		LumpCsv.writeGroups(answer.groups(), asCsv(response).getWriter());
	}

	@GetMapping("/outcomes/lump-curve.csv")
	void curves(@RequestParam(defaultValue = "none") LumpGrouping group,
			@RequestParam(required = false) @Nullable LocalDate from,
			@RequestParam(required = false) @Nullable LocalDate to, HttpServletResponse response) throws IOException {
		var answer = this.durations.answer(new LumpQuestion(group, from, to));
		LumpCsv.writeCurves(answer.groups(), asCsv(response).getWriter());
	}

	private static HttpServletResponse asCsv(HttpServletResponse response) {
		response.setContentType(new MediaType("text", "csv", StandardCharsets.UTF_8).toString());
		return response;
	}

}
