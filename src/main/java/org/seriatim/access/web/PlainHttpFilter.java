package org.seriatim.access.web;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.regex.Pattern;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.context.MessageSource;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.stereotype.Component;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Answers over an unencrypted connection only where the browser asked for this very
 * machine, since passwords and records would cross the network readable by anybody on the
 * way. The health of the service may be asked for without TLS, as a supervisor or a
 * balancer does.
 */
@Component
@Order(Ordered.HIGHEST_PRECEDENCE + 50)
class PlainHttpFilter extends OncePerRequestFilter {

	private static final Logger log = LoggerFactory.getLogger(PlainHttpFilter.class);

	private static final Pattern HEALTH = Pattern.compile("/actuator/health(/(liveness|readiness))?");

	private final MessageSource messages;

	PlainHttpFilter(MessageSource messages) {
		this.messages = messages;
	}

	@Override
	protected boolean shouldNotFilter(HttpServletRequest request) {
		return request.isSecure() || Loopback.isAskedBy(request)
				|| HEALTH.matcher(request.getRequestURI().substring(request.getContextPath().length())).matches();
	}

	@Override
	protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
			throws ServletException, IOException {
		log.info("Refused an unencrypted request from the network; docs/operations.md says how to set up TLS");
		response.setStatus(HttpStatus.FORBIDDEN.value());
		response.setContentType(MediaType.TEXT_PLAIN_VALUE);
		response.setCharacterEncoding(StandardCharsets.UTF_8.name());
		response.setHeader("X-Content-Type-Options", "nosniff");
		response.getWriter().println(this.messages.getMessage("access.plain-http", null, request.getLocale()));
	}

}
