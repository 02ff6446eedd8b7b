package org.seriatim.record.domain;

import java.math.BigDecimal;
import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.DepthMethod;

/**
 * One scar on one day by one assessor; lengths in millimetres.
 *
 * @param severity 0 to 4
 * @param response the practitioner's own judgement, -1 to 4
 */
public record ScarAssessmentEntry(LocalDate assessedOn, String assessor, @Nullable BigDecimal lengthMm,
		@Nullable BigDecimal widthMm, @Nullable BigDecimal depthMm, @Nullable DepthMethod depthMethod,
		@Nullable DepthClass depthClass, @Nullable Integer severity, @Nullable Integer response) {
}
