package org.seriatim.access.web;

import jakarta.validation.constraints.NotBlank;
import org.jspecify.annotations.Nullable;

/**
 * What the invited says. A password is no {@code String}, so that it is taken as typed:
 * texts are trimmed.
 */
record InvitationForm(@NotBlank(message = "{access.invitation.code.missing}") @Nullable String code,
		@NotBlank(message = "{access.password.missing}") @Nullable CharSequence password) {

	static InvitationForm empty() {
		return new InvitationForm(null, null);
	}

	@Override
	public String toString() {
		return "InvitationForm[]";
	}

}
