package org.seriatim.appointment.web;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;

/** Why an appointment is cancelled. */
record CancelForm(@NotBlank(message = "{appointment.cancel.no-reason}") @Size(max = 400) @Nullable String reason,
		@Nullable Long version) {
}
