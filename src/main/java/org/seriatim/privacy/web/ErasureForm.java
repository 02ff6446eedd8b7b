package org.seriatim.privacy.web;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.privacy.domain.ErasureReason;

/**
 * Asks for an erasure.
 *
 * @param typedNumber the record number once more, typed by hand
 * @param remark nothing about the patient
 */
record ErasureForm(@NotBlank(message = "{privacy.erase.number.missing}") @Nullable String typedNumber,
		@NotNull(message = "{privacy.erase.reason.missing}") @Nullable ErasureReason why,
		@Size(max = 300) @Nullable String remark) {

	static ErasureForm empty() {
		return new ErasureForm(null, null, null);
	}

	/** Prints no content of the record. */
	@Override
	public String toString() {
		return "erasure form";
	}

}
