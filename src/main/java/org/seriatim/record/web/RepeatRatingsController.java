package org.seriatim.record.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;

import org.seriatim.access.CurrentStaff;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.record.domain.RepeatRatings;
import org.seriatim.record.domain.RepeatRatings.Pairs;
import org.seriatim.treatment.Protocols;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;

/**
 * Shows what the clinic still needs to know its own measurement error, and which scars
 * can be rated blindly today; no rating is shown.
 */
@Controller
class RepeatRatingsController {

	private final RepeatRatings ratings;

	private final Protocols protocols;

	private final PatientDirectory patients;

	private final CurrentStaff staff;

	private final Clock clock;

	RepeatRatingsController(RepeatRatings ratings, Protocols protocols, PatientDirectory patients, CurrentStaff staff,
			Clock clock) {
		this.ratings = ratings;
		this.protocols = protocols;
		this.patients = patients;
		this.staff = staff;
		this.clock = clock;
	}

	/** The pairs of one kind, and what is missing. */
	record NeedLine(String kind, int pairs, int patients, int pairsMissing, int patientsMissing) {

		static NeedLine of(String kind, Pairs pairs, int pairsNeeded, int patientsNeeded) {
			return new NeedLine(kind, pairs.pairs(), pairs.patients(), Math.max(0, pairsNeeded - pairs.pairs()),
					Math.max(0, patientsNeeded - pairs.patients()));
		}

		public boolean isEnough() {
			return this.pairsMissing == 0 && this.patientsMissing == 0;
		}

	}

	/** A patient with scars that can be rated now. */
	record DueLine(String patient, String name, int own, int others) {
	}

	@GetMapping("/repeat-ratings")
	ModelAndView list() {
		var me = this.staff.id().orElseThrow(() -> new ResponseStatusException(HttpStatus.FORBIDDEN));
		var today = LocalDate.now(this.clock);
		var protocol = this.protocols.current();
		var pairs = protocol.repeatabilityPairs();
		var patientsNeeded = protocol.repeatabilityPatients();
		var soFar = this.ratings.soFar(today);
		return new ModelAndView("record/repeat-ratings")
			.addObject("needs",
					List.of(NeedLine.of("between", soFar.between(), pairs, patientsNeeded),
							NeedLine.of("within", soFar.within(), pairs, patientsNeeded)))
			.addObject("pairsNeeded", pairs)
			.addObject("patientsNeeded", patientsNeeded)
			.addObject("due",
					this.ratings.dueFor(me, today)
						.stream()
						.map((one) -> new DueLine(one.patient().toString(),
								this.patients.requireExisting(one.patient()).displayName(), one.own(), one.others()))
						.toList());
	}

}
