package org.seriatim.assessment;

import java.util.List;

import org.seriatim.patient.PatientId;

/** The counts by region and type, and with them the ECCA scores. */
public interface FaceCounts {

	/** All of a patient's, the earliest first; of one day by name of the assessor. */
	List<FaceCount> of(PatientId patient);

}
