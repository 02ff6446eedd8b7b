package org.seriatim.access;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

import jakarta.servlet.http.HttpServletRequest;

/**
 * How long the sign-in of a request lasts.
 *
 * @param idle it ends when nothing was asked for so long
 * @param warning how long before its end the page warns
 * @param endsAt it ends then in any case
 */
public record SignInTimes(Duration idle, Duration warning, Instant endsAt) {

	private static final String ATTRIBUTE = SignInTimes.class.getName();

	/** Empty where nobody is signed in, or only for this request. */
	public static Optional<SignInTimes> of(HttpServletRequest request) {
		return Optional.ofNullable((SignInTimes) request.getAttribute(ATTRIBUTE));
	}

	public void keepIn(HttpServletRequest request) {
		request.setAttribute(ATTRIBUTE, this);
	}

}
