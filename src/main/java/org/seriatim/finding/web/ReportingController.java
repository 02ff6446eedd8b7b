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
import org.seriatim.finding.domain.FindingReport;
import org.seriatim.finding.domain.FindingReportId;
import org.seriatim.finding.domain.FindingSettings;
import org.seriatim.finding.domain.KeepFindings;
import org.seriatim.finding.domain.ConsiderReporting;
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

/** Whether a finding has to be reported is recorded and corrected. */
@Controller
@ConditionalOnWebApplication
class ReportingController {

	private final ConsiderReporting reporting;

	private final KeepFindings keep;

	private final FindingPages pages;

	private final PatientDirectory patients;

	private final Refusals refusals;

	private final CurrentStaff staff;

	private final FindingSettings settings;

	private final Clock clock;

	ReportingController(ConsiderReporting reporting, KeepFindings keep, FindingPages pages, PatientDirectory patients,
			Refusals refusals, CurrentStaff staff, FindingSettings settings, Clock clock) {
		this.reporting = reporting;
		this.keep = keep;
		this.pages = pages;
		this.patients = patients;
		this.refusals = refusals;
		this.staff = staff;
		this.settings = settings;
		this.clock = clock;
	}

	@GetMapping("/findings/{finding}/reports/new")
	ModelAndView askForNew(@PathVariable FindingId finding) {
		var known = existing(finding);
		this.patients.open(known.patient());
		return this.pages.report(known, null, HttpStatus.OK)
			.addObject("form", ReportForm.empty(LocalDate.now(this.clock), this.staff.id().orElse(null)));
	}

	@PostMapping("/findings/{finding}/reports/new")
	ModelAndView record(@PathVariable FindingId finding, @Valid @ModelAttribute("form") ReportForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var known = existing(finding);
		if (!errors.hasErrors()) {
			try {
				this.reporting.record(finding, form.toDetails(this.settings.followUpAfterDays()));
				flash.addFlashAttribute("notice", "finding.report.recorded");
				return new ModelAndView("redirect:/findings/" + finding);
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return this.pages.report(known, null, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@GetMapping("/finding-reports/{report}/edit")
	ModelAndView askForCorrection(@PathVariable("report") FindingReportId id) {
		var entry = existing(id);
		var known = existing(entry.finding());
		this.patients.open(known.patient());
		return this.pages.report(known, entry, HttpStatus.OK).addObject("form", ReportForm.from(entry));
	}

	@PostMapping("/finding-reports/{report}/edit")
	ModelAndView correct(@PathVariable("report") FindingReportId id, @Valid @ModelAttribute("form") ReportForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var entry = existing(id);
		var known = existing(entry.finding());
		if (form.reason() == null) {
			errors.rejectValue("reason", "finding.reason.missing");
		}
		if (!errors.hasErrors()) {
			try {
				this.reporting.correct(id, form.version(), form.toDetails(this.settings.followUpAfterDays()),
						Objects.requireNonNull(form.reason()));
				flash.addFlashAttribute("notice", "finding.report.corrected");
				return new ModelAndView("redirect:/findings/" + known.id());
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return this.pages.report(known, entry, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private Finding existing(FindingId finding) {
		return this.keep.byId(finding).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

	private FindingReport existing(FindingReportId id) {
		return this.reporting.byId(id).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
