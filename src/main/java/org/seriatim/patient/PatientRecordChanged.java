package org.seriatim.patient;

/**
 * Something on a patient's record was entered or corrected. Published inside the
 * transaction of the change, after the change was written to the database, so that a
 * synchronous listener can read it there and what follows from it stands or falls with
 * it.
 */
public record PatientRecordChanged(PatientId patient) {
}
