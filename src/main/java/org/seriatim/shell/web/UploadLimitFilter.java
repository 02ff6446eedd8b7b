package org.seriatim.shell.web;

import java.io.IOException;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.springframework.boot.servlet.autoconfigure.MultipartProperties;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Refuses an upload by its announced size, before anything reads it. It must stand before
 * the check of the CSRF token: that token travels inside the body, which the container
 * does not open when it is too large, and the person would be told that they may not do
 * what they may.
 */
@Component
@Order(Ordered.HIGHEST_PRECEDENCE + 100)
class UploadLimitFilter extends OncePerRequestFilter {

	private final MultipartProperties limits;

	UploadLimitFilter(MultipartProperties limits) {
		this.limits = limits;
	}

	@Override
	protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
			throws ServletException, IOException {
		var type = request.getContentType();
		var largest = this.limits.getMaxRequestSize().toBytes();
		if (type != null && type.startsWith("multipart/") && largest >= 0 && request.getContentLengthLong() > largest) {
			response.sendError(HttpStatus.CONTENT_TOO_LARGE.value());
			return;
		}
		chain.doFilter(request, response);
	}

}
