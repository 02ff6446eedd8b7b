package org.seriatim.access.web;

import java.util.EnumSet;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.PatientIndex;
import org.seriatim.access.Role;
import org.seriatim.access.domain.EmergencyAccesses;
import org.seriatim.access.domain.SignInSettings;
import org.seriatim.access.domain.SignedIn;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Begins and ends an emergency access. */
@Controller
@ConditionalOnWebApplication
class EmergencyAccessController {

	/** Whom their roles let read every record. */
	private static final Set<Role> READERS = EnumSet.of(Role.ASSISTANT, Role.PRACTITIONER, Role.CLINIC_LEAD);

	private final EmergencyAccesses emergencies;

	private final ObjectProvider<PatientIndex> patients;

	private final SignInSettings settings;

	EmergencyAccessController(EmergencyAccesses emergencies, ObjectProvider<PatientIndex> patients,
			SignInSettings settings) {
		this.emergencies = emergencies;
		this.patients = patients;
		this.settings = settings;
	}

	@GetMapping("/emergency-access")
	ModelAndView ask(@RequestParam(required = false) @Nullable UUID patient) {
		var number = Optional.ofNullable(patient)
			.flatMap((id) -> this.patients.stream().flatMap((index) -> index.recordNumberOf(id).stream()).findFirst())
			.orElse(null);
		return page(new ModelAndView("access/emergency", "form", new EmergencyAccessForm(number, null, false)));
	}

	@PostMapping("/emergency-access")
	ModelAndView begin(@AuthenticationPrincipal SignedIn person,
			@Valid @ModelAttribute("form") EmergencyAccessForm form, BindingResult errors, RedirectAttributes flash) {
		if (person.roles().stream().anyMatch(READERS::contains)) {
			errors.reject("access.emergency.not-needed");
		}
		var patient = Optional.ofNullable(form.recordNumber())
			.flatMap((number) -> this.patients.stream()
				.flatMap((index) -> index.withRecordNumber(number).stream())
				.findFirst());
		if (form.recordNumber() != null && patient.isEmpty()) {
			errors.rejectValue("recordNumber", "access.emergency.record-number.unknown");
		}
		if (errors.hasErrors()) {
			return page(new ModelAndView("access/emergency", errors.getModel(), HttpStatus.UNPROCESSABLE_CONTENT));
		}
		this.emergencies.begin(person.account(), patient.orElseThrow(), Objects.requireNonNull(form.reason()));
		flash.addFlashAttribute("notice", "access.emergency.begun");
		return new ModelAndView("redirect:/patients/" + patient.orElseThrow());
	}

	@PostMapping("/emergency-access/end")
	String end(@AuthenticationPrincipal SignedIn person, RedirectAttributes flash) {
		this.emergencies.end(person.account());
		flash.addFlashAttribute("notice", "access.emergency.ended");
		return "redirect:/";
	}

	private ModelAndView page(ModelAndView page) {
		return page.addObject("minutes", this.settings.emergency().toMinutes());
	}

}
