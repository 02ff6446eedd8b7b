package org.seriatim.finding.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.Locale;

import jakarta.validation.Valid;
import org.seriatim.access.CurrentStaff;
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

/** Whether the treatment caused a finding is judged, corrected or taken back. */
@Controller
@ConditionalOnWebApplication
class CausalityController {

	private final KeepFindings keep;

	private final FindingPages pages;

	private final PatientDirectory patients;

	private final Refusals refusals;

	private final CurrentStaff staff;

	private final Clock clock;

	CausalityController(KeepFindings keep, FindingPages pages, PatientDirectory patients, Refusals refusals,
			CurrentStaff staff, Clock clock) {
		this.keep = keep;
		this.pages = pages;
		this.patients = patients;
		this.refusals = refusals;
		this.staff = staff;
		this.clock = clock;
	}

	@GetMapping("/findings/{finding}/causality")
	ModelAndView ask(@PathVariable FindingId finding) {
		var known = existing(finding);
		this.patients.open(known.patient());
		return this.pages.causality(known, HttpStatus.OK)
			.addObject("form", CausalityForm.of(known, LocalDate.now(this.clock), this.staff.id().orElse(null)));
	}

	@PostMapping("/findings/{finding}/causality")
	ModelAndView assess(@PathVariable FindingId finding, @Valid @ModelAttribute("form") CausalityForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var known = existing(finding);
		form.check(errors, known.causality() != null);
		if (!errors.hasErrors()) {
			try {
				this.keep.attribute(finding, form.version(), form.toAssessment(), form.reason());
				flash.addFlashAttribute("notice", "finding.causality.recorded");
				return new ModelAndView("redirect:/findings/" + finding);
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return this.pages.causality(known, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private Finding existing(FindingId finding) {
		return this.keep.byId(finding).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
