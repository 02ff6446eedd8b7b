package org.seriatim.screening;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.patient.PatientId;

/** What is settled before a session, for the modules that ask. */
public interface ScreeningRecords {

	/**
	 * The screening on a day.
	 * @param lastTreatedOn day of the last session before that day
	 */
	default Screening of(PatientId patient, LocalDate day, @Nullable LocalDate lastTreatedOn) {
		return of(patient, day, lastTreatedOn, false, false);
	}

	/**
	 * The screening on a day on which a session is known to use radiofrequency or a cream
	 * with prilocaine, whatever was planned.
	 */
	Screening of(PatientId patient, LocalDate day, @Nullable LocalDate lastTreatedOn, boolean radiofrequency,
			boolean prilocaine);

	/** All weights, the latest day first. */
	List<BodyWeight> weightsOf(PatientId patient);

	/** All consents that were ever given, the latest first. */
	List<TreatmentConsent> consentsOf(PatientId patient);

	/** When the cream was on that day, in order. */
	List<Numbing> numbingOf(PatientId patient, LocalDate day);

	/**
	 * Minutes that it was on in all that day, of what was stopped; empty if nothing was.
	 */
	Optional<Integer> numbingMinutes(PatientId patient, LocalDate day);

	/**
	 * How long before a session the patient has to be there for it, where that is said.
	 */
	Optional<NumbingPlan> numbingPlanOf(PatientId patient);

}
