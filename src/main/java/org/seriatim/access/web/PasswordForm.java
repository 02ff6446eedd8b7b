package org.seriatim.access.web;

import jakarta.validation.constraints.NotBlank;
import org.jspecify.annotations.Nullable;

/**
 * A new password for the person signed in. A password is no {@code String}, so that it is
 * taken as typed: texts are trimmed.
 */
record PasswordForm(@NotBlank(message = "{access.password.current.missing}") @Nullable CharSequence current,
		@NotBlank(message = "{access.password.missing}") @Nullable CharSequence password) {
}
