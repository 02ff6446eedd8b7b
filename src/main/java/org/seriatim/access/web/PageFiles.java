package org.seriatim.access.web;

import java.util.regex.Pattern;

import jakarta.servlet.http.HttpServletRequest;

/**
 * The styles, scripts and pictures of the pages: the same for everybody, and nobody's.
 */
final class PageFiles {

	private static final Pattern ADDRESS = Pattern.compile("/(css|js|images|webjars)/.*|/favicon.svg");

	private PageFiles() {
	}

	static boolean isOneAskedBy(HttpServletRequest request) {
		return ADDRESS.matcher(RequestPath.of(request)).matches();
	}

}
