package org.seriatim.access.web;

import java.io.IOException;
import java.util.Set;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.seriatim.access.domain.SignedIn;
import org.springframework.http.HttpHeaders;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.web.filter.OncePerRequestFilter;

/** Who signed in with a one-time password chooses an own one before anything else. */
final class OneTimePasswordFilter extends OncePerRequestFilter {

	private static final Set<String> STILL_OPEN = Set.of("/password", "/sign-out", "/sign-in", "/sign-in/code",
			"/error");

	@Override
	protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
			throws ServletException, IOException {
		var authentication = SecurityContextHolder.getContext().getAuthentication();
		String path = RequestPath.of(request);
		if (request.getHeader(HttpHeaders.AUTHORIZATION) == null && authentication != null
				&& authentication.getPrincipal() instanceof SignedIn person && person.mustChoosePassword()
				&& !STILL_OPEN.contains(path) && !PageFiles.isOneAskedBy(request)) {
			response.sendRedirect(request.getContextPath() + "/password");
			return;
		}
		chain.doFilter(request, response);
	}

}
