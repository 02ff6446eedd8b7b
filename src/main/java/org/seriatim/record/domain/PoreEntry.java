package org.seriatim.record.domain;

import java.math.BigDecimal;
import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;

/**
 * Pores of one region on one day by one assessor.
 *
 * @param grade 0 to 4
 */
public record PoreEntry(Region region, LocalDate assessedOn, String assessor, @Nullable Integer grade,
		@Nullable BigDecimal poresPerCm2) {
}
