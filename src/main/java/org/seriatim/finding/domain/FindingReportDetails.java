package org.seriatim.finding.domain;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.finding.ReportDecision;

/**
 * Whether a finding has to be reported to somebody, and what became of it.
 *
 * @param recipient an authority, a manufacturer; needed once it was sent
 * @param reference the recipient's or the clinic's own; once it was sent
 */
public record FindingReportDetails(LocalDate consideredOn, StaffId consideredBy, ReportDecision decision, String reason,
		@Nullable String recipient, @Nullable LocalDate sentOn, @Nullable String reference,
		@Nullable LocalDate followUpDue) {
}
