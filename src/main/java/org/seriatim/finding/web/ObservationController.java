package org.seriatim.finding.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.Locale;
import java.util.Objects;

import jakarta.validation.Valid;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.domain.EntryRefused;
import org.seriatim.finding.domain.Finding;
import org.seriatim.finding.domain.KeepFindings;
import org.seriatim.finding.domain.Observation;
import org.seriatim.finding.domain.ObservationId;
import org.seriatim.finding.domain.ObserveFinding;
import org.seriatim.patient.PatientDirectory;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What was seen of a finding, or told of it. */
@Controller
@ConditionalOnWebApplication
class ObservationController {

	private final ObserveFinding observe;

	private final KeepFindings keep;

	private final FindingPages pages;

	private final PatientDirectory patients;

	private final Refusals refusals;

	private final Clock clock;

	ObservationController(ObserveFinding observe, KeepFindings keep, FindingPages pages, PatientDirectory patients,
			Refusals refusals, Clock clock) {
		this.observe = observe;
		this.keep = keep;
		this.pages = pages;
		this.patients = patients;
		this.refusals = refusals;
		this.clock = clock;
	}

	@GetMapping("/findings/{finding}/observations/new")
	ModelAndView askForNew(@PathVariable FindingId finding) {
		var known = existing(finding);
		this.patients.open(known.patient());
		return this.pages.observation(known, null, HttpStatus.OK)
			.addObject("form", ObservationForm.empty(LocalDate.now(this.clock)));
	}

	@PostMapping("/findings/{finding}/observations/new")
	ModelAndView record(@PathVariable FindingId finding, @Valid @ModelAttribute("form") ObservationForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var known = existing(finding);
		if (!errors.hasErrors()) {
			try {
				this.observe.record(finding, form.toDetails());
				flash.addFlashAttribute("notice", "finding.observed");
				return new ModelAndView("redirect:/findings/" + finding);
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return this.pages.observation(known, null, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@GetMapping("/observations/{observation}/edit")
	ModelAndView askForCorrection(@PathVariable ObservationId observation) {
		var seen = existing(observation);
		var known = existing(seen.finding());
		this.patients.open(known.patient());
		return this.pages.observation(known, seen, HttpStatus.OK).addObject("form", ObservationForm.from(seen));
	}

	@PostMapping("/observations/{observation}/edit")
	ModelAndView correct(@PathVariable ObservationId observation, @Valid @ModelAttribute("form") ObservationForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var seen = existing(observation);
		var known = existing(seen.finding());
		if (form.reason() == null) {
			errors.rejectValue("reason", "finding.reason.missing");
		}
		if (!errors.hasErrors()) {
			try {
				this.observe.correct(observation, form.version(), form.toDetails(),
						Objects.requireNonNull(form.reason()));
				flash.addFlashAttribute("notice", "finding.observation.corrected");
				return new ModelAndView("redirect:/findings/" + known.id());
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return this.pages.observation(known, seen, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private Finding existing(FindingId finding) {
		return this.keep.byId(finding).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

	private Observation existing(ObservationId observation) {
		return this.observe.byId(observation).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
