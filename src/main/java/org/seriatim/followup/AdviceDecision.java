package org.seriatim.followup;

import java.time.Instant;
import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffMember;

/**
 * What a practitioner made of an advice: accepted as it is, or overridden with a reason
 * and an own window.
 *
 * @param reason why it was overridden; none for an accepted one
 * @param first first day of the practitioner's own window
 * @param last last day of it
 */
public record AdviceDecision(StaffMember decidedBy, Instant decidedAt, boolean accepted, @Nullable String reason,
		@Nullable LocalDate first, @Nullable LocalDate last) {
}
