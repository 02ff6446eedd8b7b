package org.seriatim.access.web;

import java.io.IOException;
import java.time.Clock;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.seriatim.access.domain.ApiTokens;
import org.springframework.http.HttpHeaders;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Lets a script read with {@code Authorization: Bearer}; a token never writes and leaves
 * no sign-in behind.
 */
final class BearerTokenFilter extends OncePerRequestFilter {

	private static final String SCHEME = "Bearer ";

	private final ApiTokens tokens;

	private final Clock clock;

	BearerTokenFilter(ApiTokens tokens, Clock clock) {
		this.tokens = tokens;
		this.clock = clock;
	}

	@Override
	protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
			throws ServletException, IOException {
		String header = request.getHeader(HttpHeaders.AUTHORIZATION);
		if (header != null && header.regionMatches(true, 0, SCHEME, 0, SCHEME.length())
				&& request.getMethod().equals("GET")) {
			var context = SecurityContextHolder.createEmptyContext();
			this.tokens.shown(header.substring(SCHEME.length()).strip()).ifPresent((shown) -> {
				context.setAuthentication(Factors.shown(shown.holder(), Factors.TOKEN, this.clock.instant()));
				request.setAttribute(RequestProvenance.TOKEN, shown.id());
			});
			SecurityContextHolder.setContext(context);
		}
		chain.doFilter(request, response);
	}

}
