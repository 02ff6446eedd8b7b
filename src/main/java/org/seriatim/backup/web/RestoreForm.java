package org.seriatim.backup.web;

import jakarta.validation.constraints.NotBlank;
import org.jspecify.annotations.Nullable;
import org.springframework.web.multipart.MultipartFile;

/**
 * What brings a backup back on the first visit. A passphrase is no {@code String}, so
 * that it is taken as typed: texts are trimmed.
 */
record RestoreForm(@NotBlank(message = "{backup.restore.code.missing}") @Nullable String code,
		@Nullable MultipartFile backup,
		@NotBlank(message = "{backup.restore.passphrase.missing}") @Nullable CharSequence passphrase) {

	static RestoreForm empty() {
		return new RestoreForm(null, null, null);
	}

}
