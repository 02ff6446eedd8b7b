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

/** A practitioner closes a finding, or takes a closing back. */
@Controller
@ConditionalOnWebApplication
class ClosingController {

	private final KeepFindings keep;

	private final FindingPages pages;

	private final PatientDirectory patients;

	private final Refusals refusals;

	private final Clock clock;

	ClosingController(KeepFindings keep, FindingPages pages, PatientDirectory patients, Refusals refusals,
			Clock clock) {
		this.keep = keep;
		this.pages = pages;
		this.patients = patients;
		this.refusals = refusals;
		this.clock = clock;
	}

	@GetMapping("/findings/{finding}/close")
	ModelAndView askForClosing(@PathVariable FindingId finding) {
		var known = existing(finding);
		this.patients.open(known.patient());
		return this.pages.closing(known, HttpStatus.OK)
			.addObject("form", ClosingForm.of(known, LocalDate.now(this.clock)));
	}

	@PostMapping("/findings/{finding}/close")
	ModelAndView close(@PathVariable FindingId finding, @Valid @ModelAttribute("form") ClosingForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var known = existing(finding);
		if (!errors.hasErrors()) {
			try {
				this.keep.close(finding, form.version(), Objects.requireNonNull(form.closedOn()),
						Objects.requireNonNull(form.reason()));
				flash.addFlashAttribute("notice", "finding.closed");
				return new ModelAndView("redirect:/findings/" + finding);
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return this.pages.closing(known, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@GetMapping("/findings/{finding}/reopen")
	ModelAndView askForReopening(@PathVariable FindingId finding) {
		var known = existing(finding);
		this.patients.open(known.patient());
		return this.pages.reopening(known, HttpStatus.OK).addObject("form", new ReopeningForm(null, known.version()));
	}

	@PostMapping("/findings/{finding}/reopen")
	ModelAndView reopen(@PathVariable FindingId finding, @Valid @ModelAttribute("form") ReopeningForm form,
			BindingResult errors, RedirectAttributes flash) {
		var known = existing(finding);
		if (errors.hasErrors()) {
			return this.pages.reopening(known, HttpStatus.UNPROCESSABLE_CONTENT);
		}
		this.keep.reopen(finding, form.version(), Objects.requireNonNull(form.reason()));
		flash.addFlashAttribute("notice", "finding.reopened");
		return new ModelAndView("redirect:/findings/" + finding);
	}

	private Finding existing(FindingId finding) {
		return this.keep.byId(finding).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
