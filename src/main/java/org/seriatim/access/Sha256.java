package org.seriatim.access;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;

/**
 * What is kept of a secret that is too long to be guessed, and what tells one content
 * from another.
 */
public final class Sha256 {

	private Sha256() {
	}

	public static byte[] of(String secret) {
		return of(secret.getBytes(StandardCharsets.UTF_8));
	}

	public static byte[] of(byte[] content) {
		try {
			return MessageDigest.getInstance("SHA-256").digest(content);
		}
		catch (NoSuchAlgorithmException ex) {
			throw new IllegalStateException("every Java platform has SHA-256", ex);
		}
	}

}
