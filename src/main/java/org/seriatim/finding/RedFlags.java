package org.seriatim.finding;

import java.util.List;

import org.seriatim.patient.PatientId;

/** Possible emergencies that no practitioner has closed; also for the front desk. */
public interface RedFlags {

	/** Those of a patient, the first raised first. */
	List<RaisedRedFlag> openOf(PatientId patient);

}
