package org.seriatim.finding.web;

import jakarta.validation.Valid;
import org.seriatim.finding.domain.RaiseRedFlag;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Raises the caution of a possible emergency, for everybody who sees patients. */
@Controller
@ConditionalOnWebApplication
class EmergencyController {

	private final RaiseRedFlag raise;

	private final RedFlagPages pages;

	private final PatientDirectory patients;

	EmergencyController(RaiseRedFlag raise, RedFlagPages pages, PatientDirectory patients) {
		this.raise = raise;
		this.pages = pages;
		this.patients = patients;
	}

	@GetMapping("/patients/{patient}/emergency")
	ModelAndView ask(@PathVariable PatientId patient) {
		this.patients.open(patient);
		return this.pages.emergency(patient, HttpStatus.OK).addObject("form", EmergencyForm.empty());
	}

	@PostMapping("/patients/{patient}/emergency")
	ModelAndView raise(@PathVariable PatientId patient, @Valid @ModelAttribute("form") EmergencyForm form,
			BindingResult errors, RedirectAttributes flash) {
		this.patients.requireExisting(patient);
		if (form.signs() == null || form.signs().isEmpty()) {
			return this.pages.emergency(patient, HttpStatus.UNPROCESSABLE_CONTENT);
		}
		this.raise.of(patient, form.signs(), form.reporterOrPatient(), form.channelOrPhone());
		flash.addFlashAttribute("notice", "finding.emergency.raised");
		return new ModelAndView("redirect:/patients/" + patient + "/emergency");
	}

}
