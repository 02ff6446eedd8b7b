package org.seriatim.finding.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.Locale;
import java.util.Objects;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.finding.Channel;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.Reporter;
import org.seriatim.finding.domain.EntryRefused;
import org.seriatim.finding.domain.Finding;
import org.seriatim.finding.domain.KeepFindings;
import org.seriatim.finding.domain.RaiseRedFlag;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SessionId;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** An adverse finding is reported, shown and corrected. */
@Controller
@ConditionalOnWebApplication
class FindingController {

	private final KeepFindings keep;

	private final RaiseRedFlag raise;

	private final FindingPages pages;

	private final PatientDirectory patients;

	private final Refusals refusals;

	private final Clock clock;

	FindingController(KeepFindings keep, RaiseRedFlag raise, FindingPages pages, PatientDirectory patients,
			Refusals refusals, Clock clock) {
		this.keep = keep;
		this.raise = raise;
		this.pages = pages;
		this.patients = patients;
		this.refusals = refusals;
		this.clock = clock;
	}

	@GetMapping("/patients/{patient}/findings/new")
	ModelAndView askForNew(@PathVariable PatientId patient,
			@RequestParam(required = false) @Nullable SessionId session) {
		this.patients.open(patient);
		return this.pages.form(patient, null, HttpStatus.OK)
			.addObject("form", FindingForm.empty(session, LocalDate.now(this.clock)));
	}

	/** The caution that belongs to a kind, as soon as it is chosen. */
	@GetMapping("/patients/{patient}/findings/caution")
	ModelAndView caution(@PathVariable PatientId patient, @RequestParam(required = false) @Nullable FindingKind kind) {
		this.patients.requireExisting(patient);
		return new ModelAndView("finding/caution :: of-kind", "redFlag", kind != null && kind.isRedFlag())
			.addObject("patientId", patient);
	}

	@PostMapping("/patients/{patient}/findings/new")
	ModelAndView report(@PathVariable PatientId patient, @Valid @ModelAttribute("form") FindingForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		this.patients.requireExisting(patient);
		if (!errors.hasErrors()) {
			try {
				var finding = this.keep.report(patient, form.toDetails());
				flash.addFlashAttribute("notice", "finding.reported");
				return new ModelAndView("redirect:/findings/" + finding);
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return form.isRedFlag() ? raised(patient, form, errors)
				: this.pages.form(patient, null, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	/*
	 * The caution does not wait for the other fields: the finding is on record from here
	 * on, and what is left to mend is mended there.
	 */
	private ModelAndView raised(PatientId patient, FindingForm form, BindingResult errors) {
		var finding = existing(
				this.raise.of(patient, Objects.requireNonNull(form.kind()), Reporter.PRACTITIONER, Channel.VISIT));
		var page = this.pages.form(patient, finding, HttpStatus.UNPROCESSABLE_CONTENT);
		var typed = form.of(finding);
		return page.addObject("form", typed)
			.addObject(BindingResult.MODEL_KEY_PREFIX + "form", FindingPages.errorsOf(typed, errors));
	}

	@GetMapping("/findings/{finding}")
	ModelAndView show(@PathVariable FindingId finding, Locale locale) {
		return this.pages.page(existing(finding), locale);
	}

	@PostMapping("/findings/{finding}/acknowledge")
	String acknowledge(@PathVariable FindingId finding, RedirectAttributes flash) {
		this.keep.acknowledge(existing(finding).id());
		flash.addFlashAttribute("notice", "finding.acknowledged");
		return "redirect:/findings/" + finding;
	}

	@GetMapping("/findings/{finding}/edit")
	ModelAndView askForCorrection(@PathVariable FindingId finding) {
		var known = existing(finding);
		this.patients.open(known.patient());
		return this.pages.form(known.patient(), known, HttpStatus.OK).addObject("form", FindingForm.from(known));
	}

	@PostMapping("/findings/{finding}/edit")
	ModelAndView correct(@PathVariable FindingId finding, @Valid @ModelAttribute("form") FindingForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var known = existing(finding);
		if (form.reason() == null) {
			errors.rejectValue("reason", "finding.reason.missing");
		}
		if (!errors.hasErrors()) {
			try {
				this.keep.correct(finding, form.version(), form.toDetails(), Objects.requireNonNull(form.reason()));
				flash.addFlashAttribute("notice", "finding.corrected");
				return new ModelAndView("redirect:/findings/" + finding);
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return this.pages.form(known.patient(), known, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private Finding existing(FindingId finding) {
		return this.keep.byId(finding).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
