package org.seriatim.assessment;

import java.util.List;
import java.util.Optional;

import org.seriatim.patient.PatientId;

/** The scars that the clinic follows one by one. */
public interface TrackedScars {

	/**
	 * All of a patient's, by label; numbers in labels count as numbers, so A2 before A10.
	 */
	List<TrackedScar> of(PatientId patient);

	Optional<TrackedScar> byId(ScarId id);

}
