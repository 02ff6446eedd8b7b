package org.seriatim.screening;

import java.time.LocalDate;

import org.seriatim.patient.PatientId;

/**
 * The cream was taken off, or its times were corrected.
 *
 * @param minutes that it was on in all that day
 */
public record NumbingStopped(PatientId patient, LocalDate day, int minutes) {
}
