package org.seriatim.shell.web;

import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.springframework.util.StringUtils;
import org.springframework.web.util.UriComponentsBuilder;
import org.springframework.web.util.UriUtils;

/**
 * The parameters that stand in an address, without those of a form that was sent to it.
 */
final class QueryParameters {

	private QueryParameters() {
	}

	static Map<String, String[]> of(@Nullable String query) {
		var parameters = new LinkedHashMap<String, String[]>();
		UriComponentsBuilder.newInstance()
			.query(query)
			.build()
			.getQueryParams()
			.forEach((name, values) -> parameters.put(decoded(name),
					values.stream()
						.map((value) -> StringUtils.hasText(value) ? decoded(value) : "")
						.toArray(String[]::new)));
		return parameters;
	}

	private static String decoded(String text) {
		return UriUtils.decode(text.replace('+', ' '), StandardCharsets.UTF_8);
	}

}
