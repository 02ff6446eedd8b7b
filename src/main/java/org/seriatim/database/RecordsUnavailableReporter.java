package org.seriatim.database;

import org.springframework.boot.SpringBootExceptionReporter;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;

/**
 * Says why the records cannot be opened in the words of {@link RecordsUnavailable} alone,
 * instead of a page of stack trace.
 */
@Order(Ordered.HIGHEST_PRECEDENCE)
class RecordsUnavailableReporter implements SpringBootExceptionReporter {

	RecordsUnavailableReporter(ConfigurableApplicationContext context) {
	}

	@Override
	public boolean reportException(Throwable failure) {
		for (Throwable cause = failure; cause != null; cause = cause.getCause()) {
			if (cause instanceof RecordsUnavailable) {
				System.err.println(cause.getMessage());
				return true;
			}
		}
		return false;
	}

}
