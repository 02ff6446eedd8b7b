package org.seriatim.finding;

import java.util.Set;

import org.seriatim.patient.PatientId;

/** What patients tell by a link, without anybody of the clinic in between. */
public interface PatientReports {

	/**
	 * Raises the caution of a possible emergency, at once and committed by itself.
	 * @param signs at least one
	 */
	void alarm(PatientId patient, Set<RedFlagSign> signs);

	/**
	 * Takes a report of today as a contact with what it says of the lumps of the session.
	 * A further one of the same day is a new version of that contact, in which a lump
	 * that was there on that day stays there.
	 * @return the contact
	 */
	ContactId take(PatientReport report);

}
