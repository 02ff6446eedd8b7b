package org.seriatim.screening;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.patient.PatientId;

/**
 * The cream was taken off, or its times were corrected.
 *
 * @param before minutes that were known of that day until now, {@code null} if none were
 * @param minutes that it was on in all that day
 */
public record NumbingStopped(PatientId patient, LocalDate day, @Nullable Integer before, int minutes) {
}
