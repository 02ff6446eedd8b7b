package org.seriatim.access.web;

import java.util.regex.Pattern;

import jakarta.servlet.http.HttpServletRequest;

/**
 * Whether a browser asked for this machine by one of the names that never leave it (RFC
 * 6761, section 6.3; RFC 1122, section 3.2.1.3; RFC 4291, section 2.5.3). The name in the
 * address decides, not where the request came from, because that is what the browser goes
 * by when it keeps a cookie.
 */
final class Loopback {

	private static final Pattern NAME = Pattern
		.compile("(?i)localhost|(?:[a-z0-9-]+\\.)+localhost|127(?:\\.\\d{1,3}){3}|\\[?(?:0*:)*:0*1]?");

	private Loopback() {
	}

	static boolean isAskedBy(HttpServletRequest request) {
		return NAME.matcher(request.getServerName()).matches();
	}

}
