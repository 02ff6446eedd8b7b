package org.seriatim.privacy.domain;

import java.time.LocalDate;

import org.seriatim.patient.PatientId;

/**
 * What has been kept for longer than the clinic's rule says.
 *
 * @param lastOn day of the last entry
 * @param entries how many entries of the kind it is
 */
public record DueEntry(RetainedKind kind, PatientId patient, String recordNumber, LocalDate lastOn, long entries) {
}
