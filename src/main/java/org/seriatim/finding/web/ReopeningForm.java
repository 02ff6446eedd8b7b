package org.seriatim.finding.web;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;

/**
 * A closing taken back.
 *
 * @param version the version that the form shows
 */
record ReopeningForm(
		@NotBlank(message = "{finding.reopening.reason.missing}") @Size(max = 1000) @Nullable String reason,
		@Nullable Long version) {
}
