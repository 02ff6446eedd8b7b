package org.seriatim.assessment;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;

/**
 * One rating of one tracked scar on one day.
 *
 * @param assessedOn day of the assessment
 * @param depthMm depth in millimetres, 0 when nothing is left of it
 * @param method how the depth was obtained
 * @param severity grade 0 to 4
 */
public record ScarRating(LocalDate assessedOn, @Nullable Double depthMm, @Nullable DepthMethod method,
		@Nullable Integer severity) {

	public ScarRating {
		if (depthMm != null && !(depthMm >= 0 && Double.isFinite(depthMm))) {
			throw new IllegalArgumentException("depthMm must be finite and at least 0, but is " + depthMm);
		}
		if (severity != null && !(severity >= 0 && severity <= 4)) {
			throw new IllegalArgumentException("severity must be between 0 and 4, but is " + severity);
		}
	}

}
