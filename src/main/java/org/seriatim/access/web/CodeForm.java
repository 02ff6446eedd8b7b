package org.seriatim.access.web;

import jakarta.validation.constraints.NotBlank;
import org.jspecify.annotations.Nullable;

/** A code: of the app, for recovery, or of an invitation. */
record CodeForm(@NotBlank(message = "{access.code.missing}") @Nullable String code) {

	static CodeForm empty() {
		return new CodeForm(null);
	}

	@Override
	public String toString() {
		return "CodeForm[]";
	}

}
