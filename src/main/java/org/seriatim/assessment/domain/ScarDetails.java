package org.seriatim.assessment.domain;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarType;

/**
 * What a form says about a tracked scar.
 *
 * @param label {@code null} asks for the next free one of its region
 */
public record ScarDetails(@Nullable String label, Region region, ScarType type, @Nullable MapPosition position,
		LocalDate firstRecordedOn) {
}
