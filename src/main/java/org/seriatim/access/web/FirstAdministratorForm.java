package org.seriatim.access.web;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Pattern;
import org.jspecify.annotations.Nullable;

/**
 * What the first visit to an empty installation asks for. A password is no
 * {@code String}, so that it is taken as typed: texts are trimmed.
 */
record FirstAdministratorForm(@NotBlank(message = "{access.set-up.code.missing}") @Nullable String code,
		@NotBlank(message = "{access.account.name.missing}") @Pattern(regexp = AccountForm.NAME,
				message = "{access.account.name.form}") @Nullable String name,
		@NotBlank(message = "{access.password.missing}") @Nullable CharSequence password) {

	static FirstAdministratorForm empty() {
		return new FirstAdministratorForm(null, null, null);
	}

}
