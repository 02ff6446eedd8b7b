package org.seriatim.finding.web;

import java.time.LocalDate;
import java.util.Objects;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.finding.ReportDecision;
import org.seriatim.finding.domain.FindingReport;
import org.seriatim.finding.domain.FindingReportDetails;

/**
 * Whether a finding has to be reported to somebody, new or to be corrected.
 *
 * @param decisionReason why it is reported, or is not
 * @param reason why the entry is corrected
 * @param version the version that the form shows
 */
record ReportForm(@NotNull(message = "{finding.day.missing}") @Nullable LocalDate consideredOn,
		@NotNull(message = "{finding.report.by.missing}") @Nullable StaffId consideredBy,
		@NotNull(message = "{finding.report.decision.missing}") @Nullable ReportDecision decision,
		@NotBlank(message = "{finding.report.reason.missing}") @Size(max = 2000) @Nullable String decisionReason,
		@Size(max = 200) @Nullable String recipient, @Nullable LocalDate sentOn,
		@Size(max = 100) @Nullable String reference, @Nullable LocalDate followUpDue,
		@Size(max = 500) @Nullable String reason, @Nullable Long version) {

	static ReportForm empty(LocalDate today, @Nullable StaffId acting) {
		return new ReportForm(today, acting, null, null, null, null, null, null, null, null);
	}

	static ReportForm from(FindingReport report) {
		var known = report.details();
		return new ReportForm(known.consideredOn(), known.consideredBy(), known.decision(), known.reason(),
				known.recipient(), known.sentOn(), known.reference(), known.followUpDue(), null, report.version());
	}

	/**
	 * @param followUpAfterDays when the follow-up is due after it was sent, where nobody
	 * entered a day; none where the clinic has set no time
	 */
	FindingReportDetails toDetails(@Nullable Integer followUpAfterDays) {
		var due = (this.followUpDue == null && this.sentOn != null && followUpAfterDays != null)
				? this.sentOn.plusDays(followUpAfterDays) : this.followUpDue;
		return new FindingReportDetails(Objects.requireNonNull(this.consideredOn),
				Objects.requireNonNull(this.consideredBy), Objects.requireNonNull(this.decision),
				Objects.requireNonNull(this.decisionReason), this.recipient, this.sentOn, this.reference, due);
	}

}
