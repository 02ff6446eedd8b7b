package org.seriatim.finding.domain;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.finding.ActionClass;
import org.seriatim.finding.CarriedOut;

/**
 * What was done about a finding on one day.
 *
 * @param doneBy who did it in the clinic; nobody for what was done elsewhere
 * @param description the clinic's own words
 */
public record FindingActionDetails(LocalDate doneOn, ActionClass action, CarriedOut carriedOut,
		@Nullable StaffId doneBy, @Nullable String description) {
}
