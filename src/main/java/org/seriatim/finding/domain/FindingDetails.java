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
 * @param histology whether histology confirmed it; asked of a granuloma
 */
public record FindingDetails(@Nullable SessionId session, FindingKind kind, @Nullable Region region,
		@Nullable ScarId scar, LocalDate firstNotedOn, @Nullable Integer grade, @Nullable GradeScale gradeScale,
		@Nullable Boolean serious, @Nullable LocalDate goneOn, @Nullable Boolean histology, @Nullable String note) {

	public FindingDetails {
		if (grade == null) {
			gradeScale = null;
		}
		if (kind != FindingKind.GRANULOMA) {
			histology = null;
		}
	}

}
