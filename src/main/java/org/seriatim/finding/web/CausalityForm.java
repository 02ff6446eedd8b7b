package org.seriatim.finding.web;

import java.time.LocalDate;

import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.finding.Causality;
import org.seriatim.finding.domain.CausalityAssessment;
import org.seriatim.finding.domain.Finding;
import org.springframework.validation.Errors;

/**
 * Whether the treatment caused a finding; all of it is empty while that is pending.
 *
 * @param reason why it is corrected; none for the first assessment
 * @param version the version that the form shows
 */
record CausalityForm(@Nullable Causality causality, @Nullable StaffId assessor, @Nullable LocalDate assessedOn,
		@Size(max = 500) @Nullable String reason, @Nullable Long version) {

	static CausalityForm of(Finding finding, LocalDate today, @Nullable StaffId acting) {
		var known = finding.causality();
		return (known != null)
				? new CausalityForm(known.causality(), known.assessor(), known.assessedOn(), null, finding.version())
				: new CausalityForm(null, acting, today, null, finding.version());
	}

	/** A category has an assessor and a day; a correction has a reason. */
	void check(Errors errors, boolean assessedBefore) {
		if (this.causality != null && this.assessor == null && !errors.hasFieldErrors("assessor")) {
			errors.rejectValue("assessor", "finding.causality.assessor.missing");
		}
		if (this.causality != null && this.assessedOn == null && !errors.hasFieldErrors("assessedOn")) {
			errors.rejectValue("assessedOn", "finding.causality.day.missing");
		}
		if (this.causality == null && !assessedBefore && !errors.hasFieldErrors("causality")) {
			errors.rejectValue("causality", "finding.causality.missing");
		}
		if (assessedBefore && this.reason == null) {
			errors.rejectValue("reason", "finding.reason.missing");
		}
	}

	@Nullable CausalityAssessment toAssessment() {
		return (this.causality != null && this.assessor != null && this.assessedOn != null)
				? new CausalityAssessment(this.causality, this.assessor, this.assessedOn) : null;
	}

}
