package org.seriatim.photograph.web;

import java.time.LocalDate;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.photograph.Purpose;

/** A consent that the patient gave. */
record ConsentForm(@NotNull(message = "{photograph.purpose.missing}") @Nullable Purpose purpose,
		@NotNull(message = "{photograph.given-on.missing}") @Nullable LocalDate givenOn,
		@Size(max = 500) @Nullable String consentNote) {
}
