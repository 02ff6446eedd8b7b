package org.seriatim.outcome.web;

import java.io.IOException;
import java.time.Clock;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.Optional;

import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.seriatim.outcome.domain.IssuedReports;
import org.seriatim.outcome.domain.OutcomeFilter;
import org.seriatim.shell.Written;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/**
 * The figures of one quarter for use outside the clinic: issued once, then the page and
 * its files as they were issued.
 */
@Controller
class OutsideReportController {

	private static final String PATH = "/outcomes/report/outside";

	private final OutsideReport report;

	private final IssuedReports issued;

	private final QuarterlyReportController inside;

	private final OutcomeWords words;

	private final Clock clock;

	OutsideReportController(OutsideReport report, IssuedReports issued, QuarterlyReportController inside,
			OutcomeWords words, Clock clock) {
		this.report = report;
		this.issued = issued;
		this.inside = inside;
		this.words = words;
		this.clock = clock;
	}

	@GetMapping(PATH)
	ModelAndView show(@RequestParam(required = false) @Nullable String quarter) {
		var today = LocalDate.now(this.clock);
		var asked = asked(quarter, today);
		if (asked.isEmpty()) {
			return page(quarter, asked, HttpStatus.BAD_REQUEST).addObject("problem",
					this.words.text("outcome.report.not-a-quarter"));
		}
		var page = page(quarter, asked, HttpStatus.OK);
		var kept = this.issued.of(asked.get().toString());
		if (kept.isEmpty()) {
			return page.addObject("unissued", true);
		}
		var content = KeptReport.read(kept.get().content());
		return page
			.addObject("made",
					this.words.text("outcome.outside.made",
							Written.day(LocalDate.ofInstant(kept.get().issuedAt(), this.clock.getZone())),
							kept.get().issuedBy()))
			.addObject("tables",
					content.figures()
						.stream()
						.map((table) -> new OutcomeView.Table(table,
								PATH + ".csv?quarter=" + asked.get() + "&table=" + table.word()))
						.toList())
			.addObject("definitions", content.definitions());
	}

	private ModelAndView page(@Nullable String sent, Optional<Quarter> asked, HttpStatus status) {
		var model = new HashMap<String, @Nullable Object>();
		model.put("offered", Quarter.upTo(LocalDate.now(this.clock)).stream().skip(1).map(Quarter::toString).toList());
		model.put("chosen", asked.map(Quarter::toString).orElse(sent));
		model.put("days", asked
			.map((one) -> this.words.text("outcome.report.days", Written.day(one.first()), Written.day(one.last())))
			.orElse(null));
		return new ModelAndView("outcome/outside-report", model, status);
	}

	/** Issues the report of a quarter that has ended; one that was issued stays. */
	@PostMapping(PATH)
	ModelAndView issue(@RequestParam(required = false) @Nullable String quarter, RedirectAttributes flash) {
		var asked = (quarter != null) ? Quarter.of(quarter.strip()) : Optional.<Quarter>empty();
		if (asked.isEmpty() || !this.issued.hasEnded(asked.get().last())) {
			return page(quarter, asked, HttpStatus.UNPROCESSABLE_CONTENT).addObject("problem",
					this.words.text(asked.isEmpty() ? "outcome.report.not-a-quarter" : "outcome.outside.not-ended"));
		}
		var name = asked.get().toString();
		if (this.issued.of(name).isEmpty()) {
			var tables = this.report.tables(OutcomeFilter.NONE.between(asked.get().first(), asked.get().last()));
			this.issued.issue(name, asked.get().last(),
					KeptReport.of(tables, this.inside.definitions(LocalDate.now(this.clock))).json());
			flash.addFlashAttribute("notice", "outcome.outside.issued");
		}
		return new ModelAndView("redirect:" + PATH + "?quarter=" + name);
	}

	@GetMapping(PATH + ".csv")
	void file(@RequestParam(required = false) @Nullable String quarter,
			@RequestParam(defaultValue = "flow") String table, HttpServletResponse response) throws IOException {
		var asked = asked(quarter, LocalDate.now(this.clock));
		if (asked.isEmpty()) {
			response.sendError(HttpStatus.BAD_REQUEST.value());
			return;
		}
		var kept = this.issued.of(asked.get().toString());
		if (kept.isEmpty()) {
			response.sendError(HttpStatus.NOT_FOUND.value());
			return;
		}
		var figures = KeptReport.read(kept.get().content())
			.figures()
			.stream()
			.filter((one) -> one.word().equals(table))
			.findFirst();
		if (figures.isEmpty()) {
			response.sendError(HttpStatus.BAD_REQUEST.value());
			return;
		}
		FigureFile.write(figures.get(), response);
	}

	/** The one asked for, or the last that has ended; empty if it is none. */
	private static Optional<Quarter> asked(@Nullable String quarter, LocalDate today) {
		return (quarter == null || quarter.isBlank()) ? Optional.of(Quarter.upTo(today).get(1))
				: Quarter.of(quarter.strip());
	}

}
