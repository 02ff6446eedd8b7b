package org.seriatim.access.web;

import jakarta.validation.constraints.NotBlank;
import org.jspecify.annotations.Nullable;

/**
 * Name and password. A password is no {@code String}, so that it is taken as typed: texts
 * are trimmed.
 */
record SignInForm(@NotBlank(message = "{access.sign-in.name.missing}") @Nullable String name,
		@NotBlank(message = "{access.password.missing}") @Nullable CharSequence password) {

	/** Prints neither. */
	@Override
	public String toString() {
		return "SignInForm[]";
	}

}
