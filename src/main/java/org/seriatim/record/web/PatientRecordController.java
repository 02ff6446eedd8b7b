package org.seriatim.record.web;

import org.seriatim.patient.PatientId;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.servlet.ModelAndView;

@Controller
class PatientRecordController {

	private final PatientRecordPages pages;

	PatientRecordController(PatientRecordPages pages) {
		this.pages = pages;
	}

	@GetMapping("/patients/{patient}")
	ModelAndView show(@PathVariable PatientId patient) {
		return new ModelAndView("record/patient", "page", this.pages.open(patient));
	}

}
