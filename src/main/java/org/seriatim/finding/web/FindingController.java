package org.seriatim.finding.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Stream;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.finding.Channel;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.HowReported;
import org.seriatim.finding.NoticedBy;
import org.seriatim.finding.RedFlagSign;
import org.seriatim.finding.Reporter;
import org.seriatim.finding.domain.EntryRefused;
import org.seriatim.finding.domain.Finding;
import org.seriatim.finding.domain.ImmediateCaution;
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

	/** The caution that belongs to a kind or a sign, as soon as it is chosen. */
	@GetMapping("/patients/{patient}/findings/caution")
	ModelAndView caution(@PathVariable PatientId patient, @RequestParam(required = false) @Nullable FindingKind kind,
			@RequestParam(required = false) @Nullable Set<RedFlagSign> signs) {
		this.patients.requireExisting(patient);
		return new ModelAndView("finding/caution :: of-kind", "redFlag", ImmediateCaution.isNeeded(kind, signs))
			.addObject("patientId", patient);
	}

	@PostMapping("/patients/{patient}/findings/new")
	ModelAndView report(@PathVariable PatientId patient, @Valid @ModelAttribute("form") FindingForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		this.patients.requireExisting(patient);
		// first, and by itself: nothing that is refused below may hold it up
		raise(patient, form, (sign) -> sign.kind() != form.kind());
		try {
			return record(patient, form, errors, flash, locale);
		}
		finally {
			// the finding itself is the possible emergency by now, and takes its signs
			raise(patient, form, (sign) -> sign.kind() == form.kind());
		}
	}

	private ModelAndView record(PatientId patient, FindingForm form, BindingResult errors, RedirectAttributes flash,
			Locale locale) {
		check(form, errors);
		if (!errors.hasErrors()) {
			try {
				var finding = this.keep.report(patient, form.toDetails());
				flash.addFlashAttribute("notice", "finding.reported");
				// the caution comes before the finding that was reported with its signs
				return new ModelAndView("redirect:"
						+ (form.isAlarming() ? "/patients/" + patient + "/emergency" : "/findings/" + finding));
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return form.isRedFlag() ? raised(patient, form, errors) : refused(patient, null, form, errors);
	}

	private void raise(PatientId patient, FindingForm form, Predicate<RedFlagSign> which) {
		var signs = Stream.ofNullable(form.signs()).flatMap(Set::stream).filter(which).toList();
		if (!signs.isEmpty()) {
			this.raise.of(patient, signs, reporter(form.noticedBy()), channel(form.howReported()));
		}
	}

	private static Reporter reporter(@Nullable NoticedBy noticedBy) {
		return (noticedBy == NoticedBy.PATIENT || noticedBy == NoticedBy.RELATIVE) ? Reporter.PATIENT
				: Reporter.PRACTITIONER;
	}

	private static Channel channel(@Nullable HowReported howReported) {
		return (howReported == HowReported.PHONE) ? Channel.PHONE
				: (howReported == HowReported.LINK) ? Channel.LINK : Channel.VISIT;
	}

	private static void check(FindingForm form, BindingResult errors) {
		if (form.lacksFirstDay() && !errors.hasFieldErrors("onsetFirst")) {
			errors.rejectValue("onsetFirst", "finding.onset.first.missing");
		}
	}

	private ModelAndView refused(PatientId patient, @Nullable Finding edited, FindingForm form, BindingResult errors) {
		var typed = form.again();
		return this.pages.form(patient, edited, HttpStatus.UNPROCESSABLE_CONTENT)
			.addObject("form", typed)
			.addObject(BindingResult.MODEL_KEY_PREFIX + "form", FindingPages.errorsOf(typed, errors));
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
		check(form, errors);
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
		return refused(known.patient(), known, form, errors);
	}

	private Finding existing(FindingId finding) {
		return this.keep.byId(finding).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
