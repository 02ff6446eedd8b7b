package org.seriatim.access.web;

import java.io.IOException;
import java.security.SecureRandom;
import java.util.Base64;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.ServletRequest;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * The number used once by which a page's own scripts are known: templates find it as
 * {@code pageNonce}, the content security policy names it, and a script that somebody
 * smuggled into a page has none.
 */
@Component
@Order(Ordered.HIGHEST_PRECEDENCE + 60)
class PageNonce extends OncePerRequestFilter {

	static final String ATTRIBUTE = "pageNonce";

	private static final int BYTES = 16;

	private static final SecureRandom RANDOM = new SecureRandom();

	@Override
	protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
			throws ServletException, IOException {
		of(request);
		chain.doFilter(request, response);
	}

	/** The nonce of the request, the same however often it is asked. */
	static String of(ServletRequest request) {
		if (request.getAttribute(ATTRIBUTE) instanceof String nonce) {
			return nonce;
		}
		var bytes = new byte[BYTES];
		RANDOM.nextBytes(bytes);
		var nonce = Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
		request.setAttribute(ATTRIBUTE, nonce);
		return nonce;
	}

}
