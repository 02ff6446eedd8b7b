package org.seriatim.backup.domain;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** SHA-256, as numbers of 64 digits. */
final class Digests {

	private Digests() {
	}

	static MessageDigest sha256() {
		try {
			return MessageDigest.getInstance("SHA-256");
		}
		catch (NoSuchAlgorithmException ex) {
			throw new IllegalStateException("every Java platform has SHA-256", ex);
		}
	}

	static String hex(MessageDigest digest) {
		return HexFormat.of().formatHex(digest.digest());
	}

}
