package org.seriatim.treatment.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;

import jakarta.validation.Valid;
import org.seriatim.access.EarlierVersions;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.Choice;
import org.seriatim.patient.Corrections;
import org.seriatim.shell.Written;
import org.seriatim.treatment.Protocols;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesStatus;
import org.seriatim.treatment.domain.AnotherSeriesIsOpen;
import org.seriatim.treatment.domain.KeepSeries;
import org.seriatim.treatment.domain.Series;
import org.seriatim.treatment.domain.SeriesEndRefused;
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

/** A series is opened, changed and ended. */
@Controller
@ConditionalOnWebApplication
class SeriesController {

	private final KeepSeries keepSeries;

	private final PatientDirectory patients;

	private final Protocols protocols;

	private final EarlierVersions earlierVersions;

	private final Corrections corrections;

	private final Clock clock;

	SeriesController(KeepSeries keepSeries, PatientDirectory patients, Protocols protocols,
			EarlierVersions earlierVersions, Corrections corrections, Clock clock) {
		this.keepSeries = keepSeries;
		this.patients = patients;
		this.protocols = protocols;
		this.earlierVersions = earlierVersions;
		this.corrections = corrections;
		this.clock = clock;
	}

	@GetMapping("/patients/{patient}/series/new")
	ModelAndView askForNew(@PathVariable PatientId patient) {
		return newPage(patient, HttpStatus.OK).addObject("form", SeriesForm.empty());
	}

	@PostMapping("/patients/{patient}/series/new")
	ModelAndView open(@PathVariable PatientId patient, @Valid @ModelAttribute("form") SeriesForm form,
			BindingResult errors, RedirectAttributes flash) {
		this.patients.requireExisting(patient);
		if (!errors.hasErrors()) {
			try {
				var series = this.keepSeries.open(patient, form.toPlan());
				flash.addFlashAttribute("notice", "treatment.series.opened");
				return new ModelAndView("redirect:/series/" + series);
			}
			catch (AnotherSeriesIsOpen ex) {
				errors.reject("treatment.series.another-is-open");
			}
		}
		return newPage(patient, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@GetMapping("/series/{series}/edit")
	ModelAndView askForPlan(@PathVariable SeriesId series, Locale locale) {
		var current = existing(series);
		return planPage(current, HttpStatus.OK, locale).addObject("form", SeriesForm.from(current));
	}

	@PostMapping("/series/{series}/edit")
	ModelAndView replan(@PathVariable SeriesId series, @Valid @ModelAttribute("form") SeriesForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var current = existing(series);
		if (form.reason() == null) {
			errors.rejectValue("reason", "treatment.correction.reason.missing");
		}
		if (errors.hasErrors()) {
			return planPage(current, HttpStatus.UNPROCESSABLE_CONTENT, locale);
		}
		this.keepSeries.replan(series, form.version(), form.toPlan(), Objects.requireNonNull(form.reason()));
		flash.addFlashAttribute("notice", "treatment.series.changed");
		return new ModelAndView("redirect:/series/" + series);
	}

	@GetMapping("/series/{series}/end")
	ModelAndView askForEnd(@PathVariable SeriesId series, Locale locale) {
		var current = existing(series);
		return endPage(current, HttpStatus.OK, locale).addObject("form",
				SeriesEndForm.from(current, LocalDate.now(this.clock)));
	}

	@PostMapping("/series/{series}/end")
	ModelAndView end(@PathVariable SeriesId series, @Valid @ModelAttribute("form") SeriesEndForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var current = existing(series);
		if (form.reopens() && current.isOpen()) {
			errors.rejectValue("status", "treatment.series.end.status.missing");
		}
		if (!form.reopens() && form.endedOn() == null && !errors.hasFieldErrors("endedOn")) {
			errors.rejectValue("endedOn", "treatment.series.end.day.missing");
		}
		if (!errors.hasErrors() && end(current, form, errors)) {
			flash.addFlashAttribute("notice", form.reopens() ? "treatment.series.reopened" : "treatment.series.ended");
			return new ModelAndView("redirect:/series/" + series);
		}
		return endPage(current, HttpStatus.UNPROCESSABLE_CONTENT, locale);
	}

	private boolean end(Series current, SeriesEndForm form, BindingResult errors) {
		try {
			if (form.reopens()) {
				this.keepSeries.reopen(current.id(), form.version(), Objects.requireNonNull(form.reason()));
			}
			else {
				this.keepSeries.end(current.id(), form.version(), form.toEnd());
			}
			return true;
		}
		catch (AnotherSeriesIsOpen ex) {
			errors.rejectValue("status", "treatment.series.another-is-open");
		}
		catch (SeriesEndRefused ex) {
			errors.rejectValue("endedOn", switch (ex.rule()) {
				case IN_THE_FUTURE -> "treatment.series.end.in-the-future";
				case BEFORE_LAST_SESSION -> "treatment.series.end.before-last-session";
			}, new Object[] { Written.day(ex.bound()) }, null);
		}
		return false;
	}

	private ModelAndView newPage(PatientId patient, HttpStatus status) {
		return new ModelAndView("treatment/series-form", status).addObject("patient", this.patients.open(patient))
			.addObject("protocol", this.protocols.current().number())
			.addObject("openSeries", this.keepSeries.openSeriesOf(patient).orElse(null));
	}

	private ModelAndView planPage(Series series, HttpStatus status, Locale locale) {
		return new ModelAndView("treatment/series-form", status)
			.addObject("patient", this.patients.open(series.patient()))
			.addObject("series", series)
			.addObject("protocol", series.protocolVersion())
			.addObject("corrections", corrections(series, locale));
	}

	private ModelAndView endPage(Series series, HttpStatus status, Locale locale) {
		var offered = new ArrayList<>(List.of(SeriesStatus.COMPLETED, SeriesStatus.STOPPED));
		if (!series.isOpen()) {
			offered.add(SeriesStatus.OPEN);
		}
		return new ModelAndView("treatment/series-end", status)
			.addObject("patient", this.patients.open(series.patient()))
			.addObject("series", series)
			.addObject("today", LocalDate.now(this.clock))
			.addObject("statuses", Choice.ofWords("treatment.series.end.status", offered))
			.addObject("corrections", corrections(series, locale));
	}

	private List<Corrections.WrittenCorrection> corrections(Series series, Locale locale) {
		return this.corrections.written(this.earlierVersions.of("series", series.id().value()),
				Map.of("status", "series-status"), (column, value) -> null, locale);
	}

	private Series existing(SeriesId series) {
		return this.keepSeries.byId(series).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
