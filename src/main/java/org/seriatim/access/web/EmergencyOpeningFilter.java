package org.seriatim.access.web;

import java.io.IOException;
import java.util.UUID;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.seriatim.access.domain.EmergencyAccesses;
import org.springframework.web.filter.OncePerRequestFilter;

/** Keeps what somebody opens by an emergency access, before it is shown. */
final class EmergencyOpeningFilter extends OncePerRequestFilter {

	private final EmergencyAccesses emergencies;

	EmergencyOpeningFilter(EmergencyAccesses emergencies) {
		this.emergencies = emergencies;
	}

	@Override
	protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
			throws ServletException, IOException {
		if (request.getAttribute(RouteRules.EMERGENCY) instanceof UUID access) {
			this.emergencies.opened(access, RequestPath.of(request));
		}
		chain.doFilter(request, response);
	}

}
