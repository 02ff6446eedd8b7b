package org.seriatim.finding.web;

import java.time.LocalDate;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.finding.domain.Finding;

/**
 * A practitioner's closing of a finding.
 *
 * @param version the version that the form shows
 */
record ClosingForm(@NotNull(message = "{finding.closing.day.missing}") @Nullable LocalDate closedOn,
		@NotBlank(message = "{finding.closing.reason.missing}") @Size(max = 1000) @Nullable String reason,
		@Nullable Long version) {

	static ClosingForm of(Finding finding, LocalDate today) {
		return new ClosingForm((finding.closedOn() != null) ? finding.closedOn() : today, finding.closingReason(),
				finding.version());
	}

}
