package org.seriatim.privacy.web;

import java.time.Clock;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditTrail;
import org.seriatim.access.AuditTrail.Opening;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.Written;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.servlet.ModelAndView;

/** Who looked at a patient's record, so that the patient can be told. */
@Controller
class OpeningsController {

	private static final DateTimeFormatter TIME_OF_DAY = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

	private final AuditTrail trail;

	private final PatientDirectory patients;

	private final Clock clock;

	OpeningsController(AuditTrail trail, PatientDirectory patients, Clock clock) {
		this.trail = trail;
		this.patients = patients;
		this.clock = clock;
	}

	/**
	 * What somebody did on one day.
	 *
	 * @param times of day, the first and the last
	 * @param roles message keys
	 * @param way message key of the way in, if it is known
	 * @param reason of an emergency access
	 */
	record Line(String day, String times, @Nullable String staff, List<String> roles, String action, String kind,
			long count, @Nullable String way, boolean emergency, @Nullable String reason) {
	}

	@GetMapping("/patients/{patient}/openings")
	ModelAndView show(@PathVariable PatientId patient) {
		var known = this.patients.open(patient);
		return new ModelAndView("privacy/openings", "patient", known)
			.addObject("lines", this.trail.ofPatient(known.id().value()).stream().map(this::line).toList())
			.addObject("madeAt", Written.time(this.clock.instant(), this.clock.getZone()));
	}

	private Line line(Opening opening) {
		var first = opening.first().atZone(this.clock.getZone());
		var from = TIME_OF_DAY.format(first);
		var to = TIME_OF_DAY.format(opening.last().atZone(this.clock.getZone()));
		return new Line(Written.day(first.toLocalDate()), from.equals(to) ? from : from + "–" + to, opening.staff(),
				opening.roles().isEmpty() ? List.of()
						: List.of(opening.roles().split(",")).stream().map((role) -> "access.role." + role).toList(),
				opening.action().name().toLowerCase(Locale.ROOT), opening.kind().replace('_', ' '), opening.times(),
				(opening.origin() != null) ? "privacy.audit.origin." + opening.origin() : null, opening.emergency(),
				opening.reason());
	}

}
