package org.seriatim.finding;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.Combination;
import org.seriatim.treatment.Layer;

/**
 * A lump with its duration and what was done where it arose. What is not known, or not
 * the same for all injections that the lump belongs to, is empty.
 *
 * @param treatedOn day of its session, day 0 of the duration
 * @param practitioner who treated
 * @param product of the preparation that was injected there, else the only one of the
 * session
 */
public record ClinicLump(PatientId patient, LumpDuration duration, LocalDate treatedOn, String practitioner,
		@Nullable Region region, @Nullable Layer layer, @Nullable Combination combination, @Nullable String product) {
}
