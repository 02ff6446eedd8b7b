package org.seriatim.outcome.web;

import java.io.IOException;
import java.time.Clock;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.stream.Collectors;

import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.seriatim.outcome.domain.LotRecall;
import org.seriatim.outcome.domain.OutcomeChoices;
import org.seriatim.outcome.web.Figures.Format;
import org.seriatim.shell.Written;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;

/**
 * From a lot to patients, sessions, regions and findings, to be printed or taken away.
 */
@Controller
class RecallController {

	private final LotRecall recall;

	private final OutcomeChoices choices;

	private final OutcomeWords words;

	private final Clock clock;

	RecallController(LotRecall recall, OutcomeChoices choices, OutcomeWords words, Clock clock) {
		this.recall = recall;
		this.choices = choices;
		this.words = words;
		this.clock = clock;
	}

	@GetMapping("/outcomes/recall")
	ModelAndView show(@RequestParam(required = false) @Nullable String lot) {
		var lots = this.choices.lots();
		var model = new HashMap<String, @Nullable Object>();
		model.put("lots", lots);
		model.put("lot", lot);
		model.put("wrong", lot != null && !lot.isBlank() && !lots.contains(lot));
		if (lot == null || lot.isBlank()) {
			return new ModelAndView("outcome/recall", model);
		}
		if (!lots.contains(lot)) {
			return new ModelAndView("outcome/recall", model, HttpStatus.BAD_REQUEST);
		}
		var treated = this.recall.of(lot);
		model.put("figures", figures(treated));
		model.put("patients", treated.stream().map(LotRecall.Treated::patient).distinct().count());
		model.put("sessions", treated.size());
		model.put("findings", treated.stream().mapToInt((one) -> one.findings().size()).sum());
		model.put("today", Written.day(LocalDate.now(this.clock)));
		return new ModelAndView("outcome/recall", model);
	}

	@GetMapping("/outcomes/recall.csv")
	void file(@RequestParam String lot, HttpServletResponse response) throws IOException {
		if (!this.choices.lots().contains(lot)) {
			throw new ResponseStatusException(HttpStatus.BAD_REQUEST);
		}
		FigureFile.write(figures(this.recall.of(lot)), response);
	}

	private Figures figures(List<LotRecall.Treated> treated) {
		var table = Figures.named("recall", this.words.text("outcome.recall.caption"), this.words)
			.column("record_number", Format.NAME)
			.column("patient", Format.NAME)
			.column("phone", Format.NAME)
			.counts("session_number")
			.column("treated_on", Format.NAME)
			.column("practitioner", Format.NAME)
			.column("product", Format.NAME)
			.column("regions", Format.NAME)
			.column("findings", Format.NAME);
		for (var one : treated) {
			table.row()
				.name(one.recordNumber(), one.recordNumber(), "/patients/" + one.patient())
				.name(one.name(), one.name())
				.name(text(one.phone()), text(one.phone()))
				.number(one.number())
				.name(one.treatedOn().toString(), Written.day(one.treatedOn()), "/sessions/" + one.session())
				.name(one.practitioner(), one.practitioner())
				.name(one.product(), one.product())
				.name(String.join(";", one.regions()),
						one.regions()
							.stream()
							.map((region) -> this.words.word("region", region))
							.collect(Collectors.joining(", ")))
				.name(one.findings().stream().map(RecallController::coded).collect(Collectors.joining(";")),
						one.findings().isEmpty() ? "–"
								: one.findings().stream().map(this::told).collect(Collectors.joining(", ")))
				.end();
		}
		return table.done();
	}

	private static String text(@Nullable String text) {
		return (text != null) ? text : "";
	}

	private static String coded(LotRecall.FindingNoted finding) {
		return finding.kind() + " " + finding.firstNotedOn() + (finding.open() ? " open" : " closed");
	}

	private String told(LotRecall.FindingNoted finding) {
		var told = this.words.word("finding-kind", finding.kind()) + " (" + Written.day(finding.firstNotedOn());
		if (finding.grade() != null) {
			told += ", " + this.words.text("outcome.recall.grade", finding.grade());
		}
		if (finding.serious()) {
			told += ", " + this.words.text("outcome.recall.serious");
		}
		return told + ", " + this.words.text(finding.open() ? "outcome.recall.open" : "outcome.recall.closed") + ")";
	}

}
