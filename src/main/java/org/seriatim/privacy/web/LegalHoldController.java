package org.seriatim.privacy.web;

import java.util.Objects;

import jakarta.validation.Valid;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.privacy.domain.KeepLegalHold;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Puts a record on hold and lifts the hold, each with a reason. */
@Controller
class LegalHoldController {

	private final KeepLegalHold holds;

	private final PatientDirectory patients;

	LegalHoldController(KeepLegalHold holds, PatientDirectory patients) {
		this.holds = holds;
		this.patients = patients;
	}

	@GetMapping("/patients/{patient}/hold")
	ModelAndView ask(@PathVariable PatientId patient) {
		this.patients.open(patient);
		return page(patient, HttpStatus.OK).addObject("form", HoldForm.empty(this.holds.of(patient).isPresent()));
	}

	@PostMapping("/patients/{patient}/hold")
	ModelAndView decide(@PathVariable PatientId patient, @Valid @ModelAttribute("form") HoldForm form,
			BindingResult errors, RedirectAttributes flash) {
		this.patients.requireExisting(patient);
		if (errors.hasErrors()) {
			return page(patient, HttpStatus.UNPROCESSABLE_CONTENT);
		}
		var reason = Objects.requireNonNull(form.reason());
		if (form.lifts()) {
			this.holds.lift(patient, reason);
		}
		else {
			this.holds.set(patient, reason);
		}
		flash.addFlashAttribute("notice", form.lifts() ? "privacy.hold.lifted" : "privacy.hold.done");
		return new ModelAndView("redirect:/patients/" + patient);
	}

	private ModelAndView page(PatientId patient, HttpStatus status) {
		return new ModelAndView("privacy/hold", status).addObject("patient", this.patients.requireExisting(patient))
			.addObject("hold", this.holds.of(patient).orElse(null));
	}

}
