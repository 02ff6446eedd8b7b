package org.seriatim.access.web;

import org.jspecify.annotations.Nullable;

/**
 * One of the two is enough. A password is no {@code String}, so that it is taken as
 * typed: texts are trimmed.
 */
record ConfirmForm(@Nullable CharSequence password, @Nullable String code) {

	static ConfirmForm empty() {
		return new ConfirmForm(null, null);
	}

	@Override
	public String toString() {
		return "ConfirmForm[]";
	}

}
