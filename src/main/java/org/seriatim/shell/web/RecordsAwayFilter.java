package org.seriatim.shell.web;

import java.io.IOException;
import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;
import java.util.regex.Pattern;

import jakarta.servlet.FilterChain;
import jakarta.servlet.RequestDispatcher;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Says so where the records cannot be reached, or their disk is full: that is no fault of
 * a page, and it passes. Stands before everything that asks the database, sign-ins too.
 */
@Component
@ConditionalOnWebApplication
@Order(Ordered.HIGHEST_PRECEDENCE)
class RecordsAwayFilter extends OncePerRequestFilter {

	/**
	 * PostgreSQL, appendix A: connection exceptions, insufficient resources, and a server
	 * that is told to stop, has crashed, or is still starting.
	 */
	private static final Pattern AWAY = Pattern.compile("08...|53...|57P0[123]");

	/**
	 * What the pool answers, without a state, to whoever goes on with a connection that
	 * it has given up; nothing of ours closes one and goes on.
	 */
	private static final String POOLED_AND_LOST = "Connection is closed";

	private static final String SECONDS = "5";

	@Override
	protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
			throws ServletException, IOException {
		try {
			chain.doFilter(request, response);
		}
		catch (ServletException | RuntimeException ex) {
			if (!isAway(ex) || response.isCommitted()) {
				throw ex;
			}
			response.reset();
			response.setHeader(HttpHeaders.RETRY_AFTER, SECONDS);
			request.setAttribute(RequestDispatcher.ERROR_EXCEPTION, ex);
			response.sendError(HttpStatus.SERVICE_UNAVAILABLE.value());
		}
	}

	static boolean isAway(Throwable thrown) {
		for (var cause = thrown; cause != null; cause = cause.getCause()) {
			if (cause instanceof SQLException refused && isAway(refused)) {
				return true;
			}
		}
		return false;
	}

	private static boolean isAway(SQLException refused) {
		var state = refused.getSQLState();
		return refused instanceof SQLTransientConnectionException || state != null && AWAY.matcher(state).matches()
				|| POOLED_AND_LOST.equals(refused.getMessage());
	}

}
