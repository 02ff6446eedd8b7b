package org.seriatim.access.web;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;

/** What a clinic lead finds of a use. */
record ReviewForm(@NotNull(message = "{access.emergency.justified.missing}") @Nullable Boolean justified,
		@Size(max = 500) @Nullable String note) {

	boolean lacksNote() {
		return Boolean.FALSE.equals(this.justified) && this.note == null;
	}

}
