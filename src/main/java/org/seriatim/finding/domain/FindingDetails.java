package org.seriatim.finding.domain;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.GradeScale;
import org.seriatim.treatment.SessionId;

/**
 * What is known of an adverse finding, apart from its course.
 *
 * @param session the session that it is counted from, if it belongs to one
 * @param grade 1 to 5
 * @param gradeScale the scale that the grade was read from; only with a grade
 * @param goneOn the patient's own date of disappearance
 * @param serious follows from the criteria where there is one
 * @param histology whether histology confirmed it; asked of a granuloma
 * @param particulars what does not travel in the exchange bundle
 */
public record FindingDetails(@Nullable SessionId session, FindingKind kind, @Nullable Region region,
		@Nullable ScarId scar, LocalDate firstNotedOn, @Nullable Integer grade, @Nullable GradeScale gradeScale,
		@Nullable Boolean serious, @Nullable LocalDate goneOn, @Nullable Boolean histology, @Nullable String note,
		FindingParticulars particulars) {

	public FindingDetails {
		if (grade == null) {
			gradeScale = null;
		}
		if (kind != FindingKind.GRANULOMA) {
			histology = null;
		}
		if (serious == null && Seriousness.isSerious(particulars.criteria())) {
			serious = true;
		}
	}

	/** A kind that is a mass in the skin, whose size, form and visibility are told. */
	public boolean isMass() {
		return switch (this.kind) {
			case LUMP, DELAYED_INFLAMMATORY_NODULE, GRANULOMA -> true;
			default -> false;
		};
	}

}
