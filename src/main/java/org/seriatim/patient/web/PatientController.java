package org.seriatim.patient.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.Sebum;
import org.seriatim.patient.Sex;
import org.seriatim.patient.SkinThickness;
import org.seriatim.patient.domain.FindPatients;
import org.seriatim.patient.domain.KeepPatient;
import org.seriatim.patient.domain.RecordNumberGiven;
import org.seriatim.shell.Choice;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/**
 * Registers a patient and corrects the entry. The skin profile is asked only of those who
 * may judge it.
 */
@Controller
class PatientController {

	/** Older than anybody ever was; a slip of the keyboard. */
	private static final int OLDEST_YEARS = 130;

	private final KeepPatient keep;

	private final FindPatients find;

	private final PatientDirectory directory;

	private final CurrentStaff staff;

	private final Clock clock;

	PatientController(KeepPatient keep, FindPatients find, PatientDirectory directory, CurrentStaff staff,
			Clock clock) {
		this.keep = keep;
		this.find = find;
		this.directory = directory;
		this.staff = staff;
		this.clock = clock;
	}

	@GetMapping("/patients/new")
	ModelAndView newPatient() {
		return page(new ModelAndView("patient/patient-form", "form", PatientForm.empty()));
	}

	@PostMapping("/patients/new")
	ModelAndView register(@Valid @ModelAttribute("form") @Nullable PatientForm form, BindingResult errors,
			RedirectAttributes flash) {
		check(form, errors);
		if (form == null || errors.hasErrors()) {
			return page(refused());
		}
		var alike = form.isAnotherPerson() ? List.<PatientRow>of()
				: PatientRow.of(this.find.possiblyTheSameAs(form.toIdentity()));
		if (!alike.isEmpty()) {
			errors.rejectValue("anotherPerson", "patient.form.alike.look");
			return page(refused()).addObject("alike", alike);
		}
		try {
			var patient = this.keep.register(form.toDetails(mayJudgeSkin()));
			flash.addFlashAttribute("notice", "patient.form.registered");
			return new ModelAndView("redirect:/patients/" + patient);
		}
		catch (RecordNumberGiven ex) {
			errors.rejectValue("recordNumber", "patient.form.record-number.given");
			return page(refused());
		}
	}

	@GetMapping("/patients/{patient}/edit")
	ModelAndView edit(@PathVariable PatientId patient) {
		this.directory.open(patient);
		var form = this.keep.byId(patient).map(PatientForm::from).orElseThrow();
		return page(patient, new ModelAndView("patient/patient-form", "form", form));
	}

	@PostMapping("/patients/{patient}/edit")
	ModelAndView correct(@PathVariable PatientId patient, @Valid @ModelAttribute("form") @Nullable PatientForm form,
			BindingResult errors, RedirectAttributes flash) {
		this.directory.requireExisting(patient);
		check(form, errors);
		if (form != null && form.reason() == null) {
			errors.rejectValue("reason", "patient.form.reason.missing");
		}
		if (form == null || errors.hasErrors()) {
			return page(patient, refused());
		}
		try {
			this.keep.correct(patient, form.version(), form.toDetails(mayJudgeSkin()), form.reason());
			flash.addFlashAttribute("notice", "patient.form.corrected");
			return new ModelAndView("redirect:/patients/" + patient);
		}
		catch (RecordNumberGiven ex) {
			errors.rejectValue("recordNumber", "patient.form.record-number.given");
			return page(patient, refused());
		}
	}

	/*
	 * Where a value is of the wrong kind, such as a date of letters, there is no form
	 * yet.
	 */
	private void check(@Nullable PatientForm form, BindingResult errors) {
		if (form == null) {
			return;
		}
		if (form.hasNoName()) {
			errors.rejectValue("familyName", "patient.form.name.missing");
		}
		if (form.birthDate() != null) {
			var today = LocalDate.now(this.clock);
			if (form.birthDate().isAfter(today)) {
				errors.rejectValue("birthDate", "patient.form.birth-date.future");
			}
			else if (form.birthDate().isBefore(today.minusYears(OLDEST_YEARS))) {
				errors.rejectValue("birthDate", "patient.form.birth-date.early");
			}
		}
	}

	private boolean mayJudgeSkin() {
		return this.staff.has(Role.PRACTITIONER) || this.staff.has(Role.CLINIC_LEAD);
	}

	private boolean mayReadRecord() {
		return mayJudgeSkin() || this.staff.has(Role.ASSISTANT);
	}

	private static ModelAndView refused() {
		return new ModelAndView("patient/patient-form", HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private ModelAndView page(PatientId patient, ModelAndView page) {
		return page(page).addObject("patient", this.directory.requireExisting(patient))
			.addObject("mayReadHistory", mayReadRecord());
	}

	private ModelAndView page(ModelAndView page) {
		return page.addObject("today", LocalDate.now(this.clock))
			.addObject("sexes", Choice.ofWords("sex", Sex.values()))
			.addObject("withSkin", mayJudgeSkin())
			.addObject("phototypes", Choice.ofGrades("patient.form.phototype", 1, 6))
			.addObject("thicknesses", Choice.ofWords("skin-thickness", SkinThickness.values()))
			.addObject("sebums", Choice.ofWords("sebum", Sebum.values()));
	}

}
