package org.seriatim.privacy.web;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;

/**
 * Sets a hold, or lifts the one that is set.
 *
 * @param lifts whether the page showed a hold
 */
record HoldForm(@NotBlank(message = "{privacy.hold.reason.missing}") @Size(max = 500) @Nullable String reason,
		boolean lifts) {

	static HoldForm empty(boolean lifts) {
		return new HoldForm(null, lifts);
	}

}
