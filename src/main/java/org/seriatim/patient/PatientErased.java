package org.seriatim.patient;

/**
 * A patient's record is erased. Published inside the transaction of the erasure, so that
 * whoever keeps something of the patient outside the database's own tables erases it in
 * the same breath; an exception of a listener undoes the erasure.
 */
public record PatientErased(PatientId patient) {
}
