package org.seriatim.patient;

import java.util.Optional;

/** Who the clinic's patients are. */
public interface PatientDirectory {

	Optional<PatientSummary> byId(PatientId id);

	/** By the record number exactly as the clinic wrote it. */
	Optional<PatientSummary> byRecordNumber(String recordNumber);

	/**
	 * For a form or a part of a page about one patient.
	 * @throws NoSuchPatient if there is none, answered as 404
	 */
	default PatientSummary requireExisting(PatientId id) {
		return byId(id).orElseThrow(NoSuchPatient::new);
	}

	/**
	 * Opens the record before a person: the same as {@link #requireExisting}, and the
	 * opening is in the audit log. Every page that shows a patient's record starts with
	 * this.
	 * @throws NoSuchPatient if there is none, answered as 404
	 */
	PatientSummary open(PatientId id);

}
