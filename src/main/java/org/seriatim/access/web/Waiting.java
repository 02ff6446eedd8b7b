package org.seriatim.access.web;

import jakarta.servlet.http.HttpServletResponse;
import org.seriatim.access.domain.TooManyGuesses;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.validation.BindingResult;
import org.springframework.validation.Errors;
import org.springframework.web.servlet.ModelAndView;

/** The answer to somebody who guesses too fast: when to come back, in plain words. */
final class Waiting {

	private static final long MINUTE = 60;

	private Waiting() {
	}

	/** Says it in the form and in the answer's head. */
	static void tell(TooManyGuesses tooMany, Errors errors, HttpServletResponse response) {
		tell(tooMany.seconds(), errors, response);
	}

	static void tell(long seconds, Errors errors, HttpServletResponse response) {
		response.setHeader(HttpHeaders.RETRY_AFTER, Long.toString(seconds));
		if (seconds < 2 * MINUTE) {
			errors.reject("access.wait.seconds", new Object[] { seconds }, null);
		}
		else {
			errors.reject("access.wait.minutes", new Object[] { (seconds + MINUTE - 1) / MINUTE }, null);
		}
	}

	static ModelAndView refused(String view, BindingResult errors, HttpServletResponse response) {
		boolean early = response.containsHeader(HttpHeaders.RETRY_AFTER);
		return new ModelAndView(view, errors.getModel(),
				early ? HttpStatus.TOO_MANY_REQUESTS : HttpStatus.UNPROCESSABLE_CONTENT);
	}

}
