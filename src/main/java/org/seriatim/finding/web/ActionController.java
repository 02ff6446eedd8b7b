package org.seriatim.finding.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.Locale;
import java.util.Objects;

import jakarta.validation.Valid;
import org.seriatim.access.CurrentStaff;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.domain.EntryRefused;
import org.seriatim.finding.domain.Finding;
import org.seriatim.finding.domain.FindingAction;
import org.seriatim.finding.domain.FindingActionId;
import org.seriatim.finding.domain.KeepFindings;
import org.seriatim.finding.domain.TreatFinding;
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

/** Something that was done about a finding is recorded and corrected. */
@Controller
@ConditionalOnWebApplication
class ActionController {

	private final TreatFinding treat;

	private final KeepFindings keep;

	private final FindingPages pages;

	private final PatientDirectory patients;

	private final Refusals refusals;

	private final CurrentStaff staff;

	private final Clock clock;

	ActionController(TreatFinding treat, KeepFindings keep, FindingPages pages, PatientDirectory patients,
			Refusals refusals, CurrentStaff staff, Clock clock) {
		this.treat = treat;
		this.keep = keep;
		this.pages = pages;
		this.patients = patients;
		this.refusals = refusals;
		this.staff = staff;

		this.clock = clock;
	}

	@GetMapping("/findings/{finding}/actions/new")
	ModelAndView askForNew(@PathVariable FindingId finding) {
		var known = existing(finding);
		this.patients.open(known.patient());
		return this.pages.action(known, null, HttpStatus.OK)
			.addObject("form", ActionForm.empty(LocalDate.now(this.clock), this.staff.id().orElse(null)));
	}

	@PostMapping("/findings/{finding}/actions/new")
	ModelAndView record(@PathVariable FindingId finding, @Valid @ModelAttribute("form") ActionForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var known = existing(finding);
		if (!errors.hasErrors()) {
			try {
				this.treat.record(finding, form.toDetails());
				flash.addFlashAttribute("notice", "finding.action.recorded");
				return new ModelAndView("redirect:/findings/" + finding);
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return this.pages.action(known, null, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@GetMapping("/finding-actions/{action}/edit")
	ModelAndView askForCorrection(@PathVariable("action") FindingActionId id) {
		var entry = existing(id);
		var known = existing(entry.finding());
		this.patients.open(known.patient());
		return this.pages.action(known, entry, HttpStatus.OK).addObject("form", ActionForm.from(entry));
	}

	@PostMapping("/finding-actions/{action}/edit")
	ModelAndView correct(@PathVariable("action") FindingActionId id, @Valid @ModelAttribute("form") ActionForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var entry = existing(id);
		var known = existing(entry.finding());
		if (form.reason() == null) {
			errors.rejectValue("reason", "finding.reason.missing");
		}
		if (!errors.hasErrors()) {
			try {
				this.treat.correct(id, form.version(), form.toDetails(), Objects.requireNonNull(form.reason()));
				flash.addFlashAttribute("notice", "finding.action.corrected");
				return new ModelAndView("redirect:/findings/" + known.id());
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return this.pages.action(known, entry, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private Finding existing(FindingId finding) {
		return this.keep.byId(finding).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

	private FindingAction existing(FindingActionId id) {
		return this.treat.byId(id).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
