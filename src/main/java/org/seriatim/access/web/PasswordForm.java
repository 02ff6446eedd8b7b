package org.seriatim.access.web;

import jakarta.validation.constraints.NotBlank;
import org.jspecify.annotations.Nullable;

/** A new password for the person signed in. */
record PasswordForm(@NotBlank(message = "{access.password.current.missing}") @Nullable String current,
		@NotBlank(message = "{access.password.missing}") @Nullable String password) {
}
