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
import org.seriatim.finding.RedFlagSign;
import org.seriatim.finding.Reporter;
import org.seriatim.finding.domain.EntryRefused;
import org.seriatim.finding.domain.Finding;
import org.seriatim.finding.domain.KeepFindings;
import org.seriatim.finding.domain.Observation;
import org.seriatim.finding.domain.ObservationId;
import org.seriatim.finding.domain.ObserveFinding;
import org.seriatim.finding.domain.RaiseRedFlag;
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

	private final RaiseRedFlag raise;

	private final FindingPages pages;

	private final PatientDirectory patients;

	private final Refusals refusals;

	private final Clock clock;

	ObservationController(ObserveFinding observe, KeepFindings keep, RaiseRedFlag raise, FindingPages pages,
			PatientDirectory patients, Refusals refusals, Clock clock) {
		this.observe = observe;
		this.keep = keep;
		this.raise = raise;
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
		// first, and by itself: nothing that is refused below may hold it up
		raise(known, form, (sign) -> sign.kind() != known.kind());
		try {
			return record(known, form, errors, flash, locale);
		}
		finally {
			// seen on the same day by the same person, so the observation comes first
			raise(known, form, (sign) -> sign.kind() == known.kind());
		}
	}

	private ModelAndView record(Finding known, ObservationForm form, BindingResult errors, RedirectAttributes flash,
			Locale locale) {
		if (!errors.hasErrors()) {
			try {
				this.observe.record(known.id(), form.toDetails());
				flash.addFlashAttribute("notice", "finding.observed");
				return new ModelAndView("redirect:" + next(known, form));
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return refused(known, null, form, errors);
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
		return refused(known, seen, form, errors);
	}

	private void raise(Finding finding, ObservationForm form, Predicate<RedFlagSign> which) {
		var signs = Stream.ofNullable(form.signs()).flatMap(Set::stream).filter(which).toList();
		if (!signs.isEmpty()) {
			this.raise.of(finding.patient(), signs, (form.reporter() != null) ? form.reporter() : Reporter.PRACTITIONER,
					(form.channel() != null) ? form.channel() : Channel.VISIT);
		}
	}

	private static String next(Finding finding, ObservationForm form) {
		return form.isAlarming() ? "/patients/" + finding.patient() + "/emergency" : "/findings/" + finding.id();
	}

	private ModelAndView refused(Finding finding, @Nullable Observation seen, ObservationForm form,
			BindingResult errors) {
		var typed = form.again();
		return this.pages.observation(finding, seen, HttpStatus.UNPROCESSABLE_CONTENT)
			.addObject("form", typed)
			.addObject(BindingResult.MODEL_KEY_PREFIX + "form", FindingPages.errorsOf(typed, errors));
	}

	private Finding existing(FindingId finding) {
		return this.keep.byId(finding).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

	private Observation existing(ObservationId observation) {
		return this.observe.byId(observation).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
