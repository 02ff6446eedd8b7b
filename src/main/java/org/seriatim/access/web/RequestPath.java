package org.seriatim.access.web;

import jakarta.servlet.http.HttpServletRequest;

/** The address of a request within the application. */
final class RequestPath {

	private RequestPath() {
	}

	static String of(HttpServletRequest request) {
		return request.getRequestURI().substring(request.getContextPath().length());
	}

}
