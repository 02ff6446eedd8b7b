package org.seriatim.access.web;

import java.security.SecureRandom;
import java.util.Base64;
import java.util.regex.Pattern;

import org.springframework.session.SessionIdGenerator;

/**
 * Ids of HTTP sessions: 216 random bits as 36 characters, which is what the column holds.
 * A random UUID has 122, and OWASP ASVS 5.0.0, 7.2.3, asks for 128.
 */
final class SessionIds implements SessionIdGenerator {

	private static final int BYTES = 27;

	private static final Pattern FORM = Pattern.compile("[A-Za-z0-9_-]{36}");

	private final SecureRandom random = new SecureRandom();

	@Override
	public String generate() {
		var bytes = new byte[BYTES];
		this.random.nextBytes(bytes);
		return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
	}

	/** Whether a text could be an id of ours. */
	static boolean isOne(String text) {
		return FORM.matcher(text).matches();
	}

}
