package org.seriatim.contactlink;

import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.finding.PatientReport.Lumps;
import org.seriatim.patient.PatientId;

/**
 * What the clinic says to patients, their links and their answers, for the modules that
 * set a clinic up.
 */
public interface LinkSetUp {

	/** Sets what links need; the words of the mail stay as they are. */
	void say(Words words);

	/** Makes a link for the patient's last session, and mail that carries it. */
	void make(PatientId patient);

	/** Takes an answer by the patient's link, as the page of the link does. */
	void answer(PatientId patient, Lumps lumps, Set<Region> where, int painNrs, @Nullable String said);

	/** What every patient is told. */
	record Words(String clinicName, String clinicPhone, String emergencyText, String emergencyPhone,
			String readingTimes, String baseAddress, String sender) {
	}

}
