package org.seriatim.privacy.web;

import java.time.Clock;
import java.util.Objects;

import jakarta.validation.Valid;
import org.seriatim.patient.LegalHolds;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.privacy.domain.ErasePatient;
import org.seriatim.privacy.domain.ErasureReason;
import org.seriatim.privacy.domain.OnHold;
import org.seriatim.shell.Choice;
import org.seriatim.shell.Written;
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
 * Erases a patient's record: first what would go and what would stay, then, with the
 * record number typed by hand, the erasure.
 */
@Controller
class ErasureController {

	private final ErasePatient erase;

	private final LegalHolds holds;

	private final PatientDirectory patients;

	private final Clock clock;

	ErasureController(ErasePatient erase, LegalHolds holds, PatientDirectory patients, Clock clock) {
		this.erase = erase;
		this.holds = holds;
		this.patients = patients;
		this.clock = clock;
	}

	/** One line of the register. */
	record Row(String patient, String at, String by, String reason, String note, int sessions, int findings) {
	}

	@GetMapping("/patients/{patient}/erase")
	ModelAndView preview(@PathVariable PatientId patient) {
		this.patients.open(patient);
		return page(patient, HttpStatus.OK).addObject("form", ErasureForm.empty());
	}

	@PostMapping("/patients/{patient}/erase")
	ModelAndView erase(@PathVariable PatientId patient, @Valid @ModelAttribute("form") ErasureForm form,
			BindingResult errors, RedirectAttributes flash) {
		var known = this.patients.requireExisting(patient);
		if (form.typedNumber() != null && !form.typedNumber().equals(known.recordNumber())) {
			errors.rejectValue("typedNumber", "privacy.erase.number.other");
		}
		if (!errors.hasErrors()) {
			try {
				this.erase.of(patient, Objects.requireNonNull(form.why()), form.remark());
				flash.addFlashAttribute("notice", "privacy.erase.done");
				return new ModelAndView("redirect:/setup/erasures");
			}
			catch (OnHold ex) {
				errors.reject("privacy.erase.on-hold");
			}
		}
		return page(patient, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@GetMapping("/setup/erasures")
	ModelAndView register() {
		return new ModelAndView("privacy/erasures", "erasures",
				this.erase.register()
					.stream()
					.map((one) -> new Row(one.patient(), Written.time(one.at(), this.clock.getZone()),
							Objects.requireNonNullElse(one.by(), "–"), "privacy.erase.reason." + one.reason(),
							Objects.requireNonNullElse(one.note(), "–"), one.sessions(), one.findings()))
					.toList());
	}

	private ModelAndView page(PatientId patient, HttpStatus status) {
		return new ModelAndView("privacy/erase", status).addObject("patient", this.patients.requireExisting(patient))
			.addObject("extent", this.erase.extent(patient))
			.addObject("onHold", this.holds.of(patient).isPresent())
			.addObject("reasons", Choice.ofWords("privacy.erase.reason", ErasureReason.values()));
	}

}
