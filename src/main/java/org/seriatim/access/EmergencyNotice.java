package org.seriatim.access;

import java.util.Optional;

import jakarta.servlet.http.HttpServletRequest;
import org.jspecify.annotations.Nullable;

/**
 * What every page says of emergency access to whom it concerns.
 *
 * @param own the one that the person has now
 * @param awaitingReview how many uses a clinic lead has yet to review; 0 for others
 */
public record EmergencyNotice(@Nullable EmergencyAccess own, int awaitingReview) {

	private static final String ATTRIBUTE = EmergencyNotice.class.getName();

	/** Empty where nobody is signed in. */
	public static Optional<EmergencyNotice> of(HttpServletRequest request) {
		return Optional.ofNullable((EmergencyNotice) request.getAttribute(ATTRIBUTE));
	}

	public void keepIn(HttpServletRequest request) {
		request.setAttribute(ATTRIBUTE, this);
	}

}
