package org.seriatim.appointment.web;

import java.time.LocalDate;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;

/**
 * Closed days as they are typed.
 *
 * @param practitioner who is away; nobody where the whole clinic is closed
 */
record ClosedForm(@Nullable StaffId practitioner, @NotNull @Nullable LocalDate closedFrom,
		@NotNull @Nullable LocalDate closedUntil, @Size(max = 120) @Nullable String closure) {
}
