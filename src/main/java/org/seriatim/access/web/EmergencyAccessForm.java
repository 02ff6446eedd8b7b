package org.seriatim.access.web;

import jakarta.validation.constraints.AssertTrue;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;

/** Whose record, why, and that one means it. */
record EmergencyAccessForm(
		@NotBlank(message = "{access.emergency.record-number.missing}") @Nullable String recordNumber,
		@NotNull(message = "{access.emergency.reason.missing}") @Size(min = 10, max = 500,
				message = "{access.emergency.reason.form}") @Nullable String reason,
		@AssertTrue(message = "{access.emergency.confirmed.missing}") boolean confirmed) {
}
