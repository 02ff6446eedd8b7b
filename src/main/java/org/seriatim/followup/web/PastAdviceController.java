package org.seriatim.followup.web;

import java.time.Clock;

import org.seriatim.followup.AdviceId;
import org.seriatim.followup.AdviceWording;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.followup.domain.PastAdvice;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.TreatmentHistory;

import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;

/**
 * Everything that was advised on a series, and each advice computed again as it was.
 */
@Controller
@ConditionalOnWebApplication
class PastAdviceController {

	private final PastAdvice past;

	private final TreatmentHistory treatments;

	private final PatientDirectory patients;

	private final AdviceWording wording;

	private final Clock clock;

	PastAdviceController(PastAdvice past, TreatmentHistory treatments, PatientDirectory patients, AdviceWording wording,
			Clock clock) {
		this.past = past;
		this.treatments = treatments;
		this.patients = patients;
		this.wording = wording;
		this.clock = clock;
	}

	@GetMapping("/series/{series}/advice")
	ModelAndView everything(@PathVariable SeriesId series) {
		var page = page("followup/past-advice", series);
		return page.addObject("given", this.past.on(series).stream().map(this::row).toList());
	}

	@GetMapping("/series/{series}/advice/{advice}")
	ModelAndView again(@PathVariable SeriesId series, @PathVariable AdviceId advice) {
		var page = page("followup/advice-again", series);
		var recomputed = this.past.again(advice)
			.filter((found) -> found.given().advice().series().equals(series))
			.orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
		return page.addObject("row", row(recomputed.given()))
			.addObject("again", RecomputedAdvice.of(recomputed, this.wording));
	}

	private ModelAndView page(String view, SeriesId id) {
		SeriesSummary series = this.treatments.series(id)
			.orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
		var patient = this.patients.open(series.patient());
		return new ModelAndView(view).addObject("series", series)
			.addObject("person", patient.displayName())
			.addObject("recordNumber", patient.recordNumber());
	}

	private PastAdviceRow row(StandingAdvice given) {
		var decision = given.latestDecision();
		var by = (decision != null) ? decision.decidedBy().name() : null;
		return PastAdviceRow.of(given, by, this.wording, this.clock.getZone());
	}

}
