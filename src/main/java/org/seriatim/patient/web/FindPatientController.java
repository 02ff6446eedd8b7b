package org.seriatim.patient.web;

import java.util.List;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.patient.domain.FindPatients;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;

/**
 * Finds a patient. What was typed travels in the body of a request only, since an address
 * is written down in many places.
 */
@Controller
class FindPatientController {

	private static final String PAGE = "patient/patients";

	private final FindPatients find;

	private final CurrentStaff staff;

	FindPatientController(FindPatients find, CurrentStaff staff) {
		this.find = find;
		this.staff = staff;
	}

	@GetMapping("/patients")
	ModelAndView list() {
		return page(PatientSearchForm.empty(), null);
	}

	@PostMapping("/patients/search")
	ModelAndView search(@Valid @ModelAttribute("form") PatientSearchForm form, BindingResult errors) {
		if (errors.hasErrors()) {
			var refused = page(form, null);
			refused.setStatus(HttpStatus.UNPROCESSABLE_CONTENT);
			return refused;
		}
		if (form.who() == null) {
			return page(form, null);
		}
		return this.find.withRecordNumber(form.who())
			.map((patient) -> new ModelAndView("redirect:/patients/" + patient))
			.orElseGet(() -> page(form, found(form)));
	}

	/** The same while somebody types: the list alone, which opens nothing by itself. */
	@PostMapping(path = "/patients/search", headers = "HX-Request=true")
	ModelAndView searchWhileTyping(@Valid @ModelAttribute("form") PatientSearchForm form, BindingResult errors) {
		return page(form, (errors.hasErrors() || form.who() == null) ? null : found(form), PAGE + " :: results");
	}

	/** For those who come back to the address of a search. */
	@GetMapping("/patients/search")
	String searchAgain() {
		return "redirect:/patients";
	}

	private List<PatientRow> found(PatientSearchForm form) {
		return (form.who() != null) ? PatientRow.of(this.find.like(form.who())) : List.of();
	}

	private ModelAndView page(PatientSearchForm form, @Nullable List<PatientRow> found) {
		return page(form, found, PAGE);
	}

	private ModelAndView page(PatientSearchForm form, @Nullable List<PatientRow> found, String view) {
		var page = new ModelAndView(view, "form", form);
		page.addObject("found", found);
		page.addObject("cutOff", found != null && found.size() == FindPatients.LARGEST_LIST);
		page.addObject("recent",
				this.staff.id().map(this.find::recentlyOpenedBy).map(PatientRow::of).orElse(List.of()));
		return page;
	}

}
