package org.seriatim.finding.web;

import java.time.Clock;
import java.time.Duration;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.finding.domain.OpenEmergencies;
import org.seriatim.finding.domain.OpenEmergencies.OpenEmergency;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.shell.Written;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.servlet.ModelAndView;

/** The possible emergencies of the whole clinic that no practitioner has closed. */
@Controller
@ConditionalOnWebApplication
class EmergencyListController {

	private final OpenEmergencies emergencies;

	private final PatientDirectory patients;

	private final RedFlagPages redFlags;

	private final CurrentStaff staff;

	private final MessageSource messages;

	private final Clock clock;

	EmergencyListController(OpenEmergencies emergencies, PatientDirectory patients, RedFlagPages redFlags,
			CurrentStaff staff, MessageSource messages, Clock clock) {
		this.emergencies = emergencies;
		this.patients = patients;
		this.redFlags = redFlags;
		this.staff = staff;
		this.messages = messages;
		this.clock = clock;
	}

	/**
	 * One of them.
	 *
	 * @param open for how long it has been open
	 * @param acknowledged by whom, when and after how long; none while it waits
	 */
	record EmergencyRow(String finding, String patient, String kind, String raised, String open,
			@Nullable String acknowledged) {
	}

	@GetMapping("/emergencies")
	ModelAndView list() {
		return new ModelAndView("finding/emergencies")
			.addObject("emergencies", this.emergencies.all().stream().map(this::row).toList())
			.addObject("mayClose", this.staff.has(Role.PRACTITIONER))
			.addObject("now", Written.time(this.clock.instant(), this.clock.getZone()));
	}

	private EmergencyRow row(OpenEmergency emergency) {
		var flag = emergency.raised();
		var line = this.redFlags.line(flag);
		return new EmergencyRow(flag.finding().toString(),
				this.patients.requireExisting(emergency.patient()).displayName(),
				this.messages.getMessage("finding-kind." + emergency.kind().word(), null,
						LocaleContextHolder.getLocale()),
				line.raised(), this.redFlags.lasting(Duration.between(flag.raisedAt(), this.clock.instant())),
				line.acknowledged());
	}

}
