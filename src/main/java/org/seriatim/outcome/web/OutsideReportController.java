package org.seriatim.outcome.web;

import java.io.IOException;
import java.time.Clock;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Optional;

import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.seriatim.outcome.domain.OutcomeFilter;
import org.seriatim.shell.Written;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** The figures of one quarter for use outside the clinic: the page and its files. */
@Controller
class OutsideReportController {

	private static final String PATH = "/outcomes/report/outside";

	private final OutsideReport report;

	private final QuarterlyReportController inside;

	private final OutcomeWords words;

	private final Clock clock;

	OutsideReportController(OutsideReport report, QuarterlyReportController inside, OutcomeWords words, Clock clock) {
		this.report = report;
		this.inside = inside;
		this.words = words;
		this.clock = clock;
	}

	@GetMapping(PATH)
	ModelAndView show(@RequestParam(required = false) @Nullable String quarter) {
		var today = LocalDate.now(this.clock);
		var offered = Quarter.upTo(today);
		var asked = asked(quarter, today);
		var model = new HashMap<String, @Nullable Object>();
		model.put("offered", offered.stream().map(Quarter::toString).toList());
		model.put("chosen", asked.map(Quarter::toString).orElse(quarter));
		model.put("wrong", asked.isEmpty());
		if (asked.isEmpty()) {
			return new ModelAndView("outcome/outside-report", model, HttpStatus.BAD_REQUEST);
		}
		model.put("days", this.words.text("outcome.report.days", Written.day(asked.get().first()),
				Written.day(asked.get().last())));
		model.put("made", Written.day(today));
		model.put("tables",
				tables(asked.get()).stream()
					.map((table) -> new OutcomeView.Table(table,
							PATH + ".csv?quarter=" + asked.get() + "&table=" + table.word()))
					.toList());
		model.put("definitions", this.inside.definitions(today));
		return new ModelAndView("outcome/outside-report", model);
	}

	@GetMapping(PATH + ".csv")
	void file(@RequestParam(required = false) @Nullable String quarter,
			@RequestParam(defaultValue = "flow") String table, HttpServletResponse response) throws IOException {
		var asked = asked(quarter, LocalDate.now(this.clock));
		var figures = asked.stream()
			.flatMap((one) -> tables(one).stream())
			.filter((one) -> one.word().equals(table))
			.findFirst();
		if (figures.isEmpty()) {
			response.sendError(HttpStatus.BAD_REQUEST.value());
			return;
		}
		FigureFile.write(figures.get(), response);
	}

	private List<Figures> tables(Quarter quarter) {
		return this.report.tables(OutcomeFilter.NONE.between(quarter.first(), quarter.last()));
	}

	/** The one asked for, or the last that has ended; empty if it is none. */
	private static Optional<Quarter> asked(@Nullable String quarter, LocalDate today) {
		return (quarter == null || quarter.isBlank()) ? Optional.of(Quarter.upTo(today).get(1))
				: Quarter.of(quarter.strip());
	}

}
