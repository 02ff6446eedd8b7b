package org.seriatim.shell.web;

import java.util.Collections;
import java.util.regex.Pattern;

import jakarta.servlet.DispatcherType;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.HandlerInterceptor;

/**
 * Refuses a form whose rows have indexes that no page of ours writes. The binding of rows
 * to records takes such an index for a fault of the program and would answer as one.
 */
@Component
class RowIndexGuard implements HandlerInterceptor {

	private static final Pattern INDEX = Pattern.compile("\\[([^]]*)]?");

	private static final Pattern NUMBER = Pattern.compile("\\d{1,3}");

	@Override
	public boolean preHandle(HttpServletRequest request, HttpServletResponse response, Object handler)
			throws Exception {
		if (request.getDispatcherType() != DispatcherType.REQUEST) {
			// an error page must not read the body that was refused
			return true;
		}
		for (var name : Collections.list(request.getParameterNames())) {
			var index = INDEX.matcher(name);
			while (index.find()) {
				if (!NUMBER.matcher(index.group(1)).matches()
						|| Integer.parseInt(index.group(1)) >= BindingAdvice.MOST_LINES) {
					response.sendError(HttpStatus.BAD_REQUEST.value());
					return false;
				}
			}
		}
		return true;
	}

}
