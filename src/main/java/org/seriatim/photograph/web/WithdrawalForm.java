package org.seriatim.photograph.web;

import java.time.LocalDate;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;

/** The end of a consent. */
record WithdrawalForm(@NotNull(message = "{photograph.withdrawn-on.missing}") @Nullable LocalDate withdrawnOn,
		@NotNull(message = "{photograph.withdrawal.missing}") @Size(max = 500) @Nullable String reason) {
}
