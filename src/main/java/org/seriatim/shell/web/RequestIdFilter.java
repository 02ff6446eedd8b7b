package org.seriatim.shell.web;

import java.io.IOException;
import java.util.regex.Pattern;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.slf4j.MDC;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Gives each request the id that stands on its lines in the log and in its answer: the
 * one that a web server in front has given it, else the reference that an error page
 * would show. An error page's own line in the log has both, so that whoever reads out the
 * reference leads to all lines of the request.
 */
@Component
@Order(Ordered.HIGHEST_PRECEDENCE)
class RequestIdFilter extends OncePerRequestFilter {

	static final String HEADER = "X-Request-Id";

	/** Names the id on a line of the log. */
	static final String KEY = "requestId";

	/** A number in hexadecimal, or a UUID: nobody's name or words can be written so. */
	private static final Pattern ID = Pattern.compile("[0-9A-Fa-f-]{16,64}");

	@Override
	protected boolean shouldNotFilterErrorDispatch() {
		return false;
	}

	@Override
	protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
			throws ServletException, IOException {
		var id = idOf(request);
		response.setHeader(HEADER, id);
		MDC.put(KEY, id);
		try {
			chain.doFilter(request, response);
		}
		finally {
			MDC.remove(KEY);
		}
	}

	private static String idOf(HttpServletRequest request) {
		var given = request.getHeader(HEADER);
		return (given != null && ID.matcher(given).matches()) ? given : Reference.of(request);
	}

}
