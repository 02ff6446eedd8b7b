package org.seriatim.finding.domain;

import java.time.LocalDate;

import org.seriatim.access.StaffId;
import org.seriatim.finding.Causality;

/** Whether the treatment caused a finding, as somebody judged it on a day. */
public record CausalityAssessment(Causality causality, StaffId assessor, LocalDate assessedOn) {
}
