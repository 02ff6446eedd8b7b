package org.seriatim.photograph.web;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.photograph.domain.Photograph;

/**
 * Why a photograph is set aside or brought back.
 *
 * @param version the version that the form shows
 */
record ReasonForm(@NotNull(message = "{photograph.reason.missing}") @Size(max = 500) @Nullable String reason,
		@Nullable Long version) {

	static ReasonForm of(Photograph photograph) {
		return new ReasonForm(null, photograph.version());
	}

}
