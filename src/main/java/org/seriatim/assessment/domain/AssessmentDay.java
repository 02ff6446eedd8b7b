package org.seriatim.assessment.domain;

import java.time.LocalDate;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import jakarta.persistence.Embedded;
import org.seriatim.access.StaffId;

/** One day by one assessor: what an assessment is. */
@Embeddable
public record AssessmentDay(LocalDate assessedOn,
		@Embedded @AttributeOverride(name = "value", column = @Column(name = "assessor_id")) StaffId assessor) {

	AssessmentDay movedTo(LocalDate day) {
		return new AssessmentDay(day, this.assessor);
	}

}
