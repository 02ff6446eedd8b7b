package org.seriatim.finding.web;

import java.time.LocalDate;
import java.util.Objects;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.GradeScale;
import org.seriatim.finding.domain.Finding;
import org.seriatim.finding.domain.FindingDetails;
import org.seriatim.treatment.SessionId;

/**
 * An adverse finding, new or to be corrected.
 *
 * @param reason why it is corrected
 * @param version the version that the form shows
 */
record FindingForm(@NotNull(message = "{finding.kind.missing}") @Nullable FindingKind kind, @Nullable SessionId session,
		@Nullable Region region, @Nullable ScarId scar,
		@NotNull(message = "{finding.first-noted.missing}") @Nullable LocalDate firstNotedOn,
		@Min(value = 1, message = "{finding.grade.range}") @Max(value = 5,
				message = "{finding.grade.range}") @Nullable Integer grade,
		@Nullable GradeScale gradeScale, @Nullable Boolean serious, @Nullable LocalDate goneOn,
		@Nullable Boolean histology, @Size(max = 2000) @Nullable String note, @Size(max = 500) @Nullable String reason,
		@Nullable Long version) {

	static FindingForm empty(@Nullable SessionId session, LocalDate today) {
		return new FindingForm(null, session, null, null, today, null, GradeScale.CTCAE_6, null, null, null, null, null,
				null);
	}

	static FindingForm from(Finding finding) {
		var known = finding.details();
		return new FindingForm(known.kind(), known.session(), known.region(), known.scar(), known.firstNotedOn(),
				known.grade(), (known.gradeScale() != null) ? known.gradeScale() : GradeScale.CTCAE_6, known.serious(),
				known.goneOn(), known.histology(), known.note(), null, finding.version());
	}

	/** What was typed, about a finding that exists by now. */
	FindingForm of(Finding finding) {
		return new FindingForm(this.kind, this.session, this.region, this.scar, this.firstNotedOn, this.grade,
				this.gradeScale, this.serious, this.goneOn, this.histology, this.note, this.reason, finding.version());
	}

	/** Whether what was chosen may be an emergency, whatever else is missing. */
	boolean isRedFlag() {
		return this.kind != null && this.kind.isRedFlag();
	}

	FindingDetails toDetails() {
		return new FindingDetails(this.session, Objects.requireNonNull(this.kind), this.region, this.scar,
				Objects.requireNonNull(this.firstNotedOn), this.grade, this.gradeScale, this.serious, this.goneOn,
				this.histology, this.note);
	}

}
