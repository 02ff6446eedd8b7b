package org.seriatim.exchange.web;

import org.jspecify.annotations.Nullable;

import org.springframework.web.multipart.MultipartFile;

/**
 * A bundle to import.
 *
 * @param update no value where the box was not even offered
 */
record ImportForm(@Nullable MultipartFile bundle, @Nullable Boolean update) {

	static ImportForm empty() {
		return new ImportForm(null, null);
	}

}
