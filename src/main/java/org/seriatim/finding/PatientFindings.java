package org.seriatim.finding;

import java.util.Collection;
import java.util.List;
import java.util.Map;

import org.seriatim.patient.PatientId;

/**
 * What went wrong and what patients told, for the modules that look back at it. None of
 * it is for the front desk.
 */
public interface PatientFindings {

	/**
	 * All findings of a patient, open and closed, by the day on which they were first
	 * noted, with their observations.
	 */
	List<RecordedFinding> of(PatientId patient);

	/** The same for many patients at once; a patient without findings has no entry. */
	Map<PatientId, List<RecordedFinding>> of(Collection<PatientId> patients);

	/** All contacts after a patient's sessions, by their days. */
	List<RecordedContact> contactsOf(PatientId patient);

	/** The same for many patients at once; a patient without contacts has no entry. */
	Map<PatientId, List<RecordedContact>> contactsOf(Collection<PatientId> patients);

}
