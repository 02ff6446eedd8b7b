package org.seriatim.assessment.web;

import java.util.List;
import java.util.Objects;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;

/**
 * What one assessor says on one day had become of scars. Everything is text, so that
 * whatever is refused comes back as it was typed.
 *
 * @param reason why it is corrected
 * @param version the version that the form shows
 */
record StatesForm(@NotBlank(message = "{assessment.day.missing}") @Nullable String assessedOn,
		@Valid List<StateRow> rows, @Size(max = 500) @Nullable String reason, @Nullable Long version) {

	StatesForm(@Nullable String assessedOn, @Nullable List<StateRow> rows, @Nullable String reason,
			@Nullable Long version) {
		this.assessedOn = assessedOn;
		this.rows = (rows != null) ? rows.stream().filter(Objects::nonNull).toList() : List.of();
		this.reason = reason;
		this.version = version;
	}

}
