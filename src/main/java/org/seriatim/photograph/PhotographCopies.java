package org.seriatim.photograph;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.patient.PatientId;

/** Photographs that a patient takes along. */
public interface PhotographCopies {

	/**
	 * A photograph that is held.
	 *
	 * @param region word of what a close view shows
	 * @param scar label of the scar that it shows
	 * @param setAside whether it is kept out of sight
	 * @param sha256 of the picture as it is kept, in hexadecimal digits
	 */
	record Held(PhotographId id, LocalDate takenOn, @Nullable LocalTime takenAt, View view, LightSet lightSet,
			@Nullable String region, @Nullable String scar, boolean setAside, String sha256) {
	}

	/**
	 * A purpose with the days of a consent to it.
	 *
	 * @param withdrawnOn {@code null} while it stands
	 */
	record Allowed(Purpose purpose, LocalDate givenOn, @Nullable LocalDate withdrawnOn) {
	}

	/** All that are held, the earliest first, those set aside too. */
	List<Held> of(PatientId patient);

	/** All consents that were ever given, the earliest first. */
	List<Allowed> consentsOf(PatientId patient);

	/** Whether the patient allows that anybody here looks at them. */
	boolean mayBeShown(PatientId patient);

	/**
	 * The picture as it is kept, to be given to its patient, which is in the audit log as
	 * given out.
	 * @return a JPEG; empty if its file is gone, or if it may not be shown any more
	 */
	Optional<byte[]> forThePatient(PhotographId photograph);

}
