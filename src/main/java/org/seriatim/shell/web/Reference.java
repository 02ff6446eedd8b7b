package org.seriatim.shell.web;

import java.security.SecureRandom;

import jakarta.servlet.ServletRequest;

/**
 * The number by which a failed request is found again in the log. A person reads it out,
 * so it has no letters that are taken for one another.
 */
final class Reference {

	private static final String ALPHABET = "23456789CDFGHJKMNPQRTVWX";

	private static final String ATTRIBUTE = Reference.class.getName();

	private static final SecureRandom RANDOM = new SecureRandom();

	private Reference() {
	}

	/** The reference of the request, the same however often it is asked. */
	static String of(ServletRequest request) {
		if (request.getAttribute(ATTRIBUTE) instanceof String reference) {
			return reference;
		}
		var reference = next();
		request.setAttribute(ATTRIBUTE, reference);
		return reference;
	}

	private static String next() {
		var text = new StringBuilder();
		for (var i = 0; i < 8; i++) {
			text.append((i == 4) ? "-" : "").append(ALPHABET.charAt(RANDOM.nextInt(ALPHABET.length())));
		}
		return text.toString();
	}

}
