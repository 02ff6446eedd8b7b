package org.seriatim.assessment;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.patient.PatientId;

/**
 * A depth of one scar by one assessor, as a candidate for a pair of ratings.
 *
 * @param blindedRepeat whether it is the assessor's second rating of that day, given
 * without sight of the first
 * @param depthMm millimetres, at least 0
 */
public record RatedDepth(PatientId patient, ScarId scar, LocalDate assessedOn, StaffId assessor, boolean blindedRepeat,
		double depthMm, @Nullable DepthMethod method) {

	boolean isByTwoMethodsWith(RatedDepth other) {
		return this.method != null && other.method != null && this.method != other.method;
	}

	boolean isByAnotherAssessorThan(RatedDepth other) {
		return !this.blindedRepeat && !other.blindedRepeat && !this.assessor.equals(other.assessor);
	}

	boolean isBlindedRepeatOf(RatedDepth other) {
		return this.blindedRepeat && !other.blindedRepeat && this.assessor.equals(other.assessor);
	}

}
