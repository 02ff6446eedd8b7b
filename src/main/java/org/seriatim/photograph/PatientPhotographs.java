package org.seriatim.photograph;

import java.util.Map;

import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;

/** How many photographs there are, for pages that lead to them. */
public interface PatientPhotographs {

	/** Those that show the scar from close by; scars without one are left out. */
	Map<ScarId, Integer> closeUps(PatientId patient);

}
