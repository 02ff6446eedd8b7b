package org.seriatim.assessment.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarType;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.assessment.domain.LabelTaken;
import org.seriatim.assessment.domain.Scar;
import org.seriatim.assessment.domain.TrackScar;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.Choice;
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

/** Begins to track a scar and corrects what is known of it. */
@Controller
class ScarController {

	private static final String PAGE = "assessment/scar-form";

	private final TrackScar track;

	private final TrackedScars scars;

	private final PatientDirectory patients;

	private final FaceMapDrawing drawing;

	private final Clock clock;

	ScarController(TrackScar track, TrackedScars scars, PatientDirectory patients, FaceMapDrawing drawing,
			Clock clock) {
		this.track = track;
		this.scars = scars;
		this.patients = patients;
		this.drawing = drawing;
		this.clock = clock;
	}

	@GetMapping("/patients/{patient}/scars/new")
	ModelAndView newScar(@PathVariable PatientId patient) {
		this.patients.open(patient);
		return page(patient, new ModelAndView(PAGE, "form", ScarForm.empty(LocalDate.now(this.clock))), null);
	}

	/**
	 * @param another whether the next scar is entered right after this one
	 */
	@PostMapping("/patients/{patient}/scars/new")
	ModelAndView track(@PathVariable PatientId patient, @Valid @ModelAttribute("form") @Nullable ScarForm form,
			BindingResult errors, @RequestParam(defaultValue = "false") boolean another, RedirectAttributes flash) {
		this.patients.requireExisting(patient);
		check(form, errors);
		if (form == null || errors.hasErrors()) {
			return page(patient, refused(), null);
		}
		try {
			this.track.of(patient, form.toDetails());
		}
		catch (LabelTaken ex) {
			errors.rejectValue("label", "assessment.scar.label.taken");
			return page(patient, refused(), null);
		}
		flash.addFlashAttribute("notice", saved(form));
		return new ModelAndView("redirect:/patients/" + patient + (another ? "/scars/new" : ""));
	}

	@GetMapping("/scars/{scar}/edit")
	ModelAndView edit(@PathVariable ScarId scar) {
		var known = known(scar);
		this.patients.open(known.patient());
		return page(known.patient(), new ModelAndView(PAGE, "form", ScarForm.from(known)), known);
	}

	@PostMapping("/scars/{scar}/edit")
	ModelAndView correct(@PathVariable ScarId scar, @Valid @ModelAttribute("form") @Nullable ScarForm form,
			BindingResult errors, RedirectAttributes flash) {
		var known = known(scar);
		check(form, errors);
		if (form != null && form.reason() == null) {
			errors.rejectValue("reason", "assessment.reason.missing");
		}
		if (form == null || errors.hasErrors()) {
			return page(known.patient(), refused(), known);
		}
		try {
			this.track.correct(scar, form.version(), form.toDetails(), form.reason());
		}
		catch (LabelTaken ex) {
			errors.rejectValue("label", "assessment.scar.label.taken");
			return page(known.patient(), refused(), known);
		}
		flash.addFlashAttribute("notice", saved(form));
		return new ModelAndView("redirect:/patients/" + known.patient());
	}

	private Scar known(ScarId scar) {
		return this.track.byId(scar).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

	/*
	 * Where a value is of the wrong kind, such as a date of letters, there is no form
	 * yet.
	 */
	private void check(@Nullable ScarForm form, BindingResult errors) {
		if (form == null) {
			return;
		}
		if (form.mapX() == null && form.mapY() != null) {
			errors.rejectValue("mapX", "assessment.scar.map.half");
		}
		if (form.mapY() == null && form.mapX() != null) {
			errors.rejectValue("mapY", "assessment.scar.map.half");
		}
		if (form.firstRecordedOn() != null && form.firstRecordedOn().isAfter(LocalDate.now(this.clock))) {
			errors.rejectValue("firstRecordedOn", "assessment.day.future");
		}
	}

	/*
	 * The outlines are a drawing, so a mark beyond its region is a question and no error.
	 */
	private static String saved(ScarForm form) {
		return form.isOutsideItsRegion() ? "assessment.scar.saved-outside" : "assessment.scar.saved";
	}

	private static ModelAndView refused() {
		return new ModelAndView(PAGE, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private ModelAndView page(PatientId patient, ModelAndView page, @Nullable Scar edited) {
		var all = this.scars.of(patient);
		var others = (edited == null) ? all : all.stream().filter((scar) -> !scar.id().equals(edited.id())).toList();
		return page.addObject("patient", this.patients.requireExisting(patient))
			.addObject("edited", (edited != null) ? edited.id() : null)
			.addObject("others", others.stream().filter(TrackedScar::isOnMap).map(this.drawing::place).toList())
			.addObject("regions", RegionOption.all(labels(all), this.drawing))
			.addObject("types", Choice.ofWords("scar-type", ScarType.values()))
			.addObject("today", LocalDate.now(this.clock));
	}

	private static List<String> labels(List<TrackedScar> scars) {
		return scars.stream().map(TrackedScar::label).toList();
	}

}
