package org.seriatim.patient.domain;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.patient.PatientId;

/** A row of a list of patients: enough to tell two people of one name apart. */
public record FoundPatient(PatientId id, String recordNumber, @Nullable String familyName, @Nullable String givenName,
		@Nullable LocalDate birthDate, @Nullable String phone) {

	/** Prints no content of the record. */
	@Override
	public String toString() {
		return "Patient " + this.id;
	}

}
