package org.seriatim.access.web;

import java.util.Set;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotEmpty;
import jakarta.validation.constraints.Pattern;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Role;

/** A new account. */
record AccountForm(
		@NotBlank(message = "{access.account.name.missing}") @Pattern(regexp = NAME,
				message = "{access.account.name.form}") @Nullable String name,
		@NotEmpty(message = "{access.account.roles.missing}") @Nullable Set<Role> roles) {

	/**
	 * Letters, digits and marks that read well in a table and in a file; no space at
	 * either end.
	 */
	static final String NAME = "[\\p{L}\\p{N}][\\p{L}\\p{N} ._'-]{0,58}[\\p{L}\\p{N}.]";

	static AccountForm empty() {
		return new AccountForm(null, Set.of());
	}

}
