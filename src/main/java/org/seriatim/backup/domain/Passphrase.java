package org.seriatim.backup.domain;

import java.security.GeneralSecurityException;
import java.text.Normalizer;
import java.text.Normalizer.Form;

import javax.crypto.SecretKeyFactory;
import javax.crypto.spec.PBEKeySpec;

/**
 * The secret with which the clinic opens its backups. It is kept nowhere in the records.
 * What looks the same on another keyboard is the same (Unicode NFKC).
 */
public final class Passphrase {

	private static final String DERIVATION = "PBKDF2WithHmacSHA256";

	private static final int KEY_BITS = 256;

	private final String typed;

	private Passphrase(String typed) {
		this.typed = typed;
	}

	/**
	 * @param typed not empty
	 */
	public static Passphrase of(CharSequence typed) {
		if (typed.isEmpty()) {
			throw new IllegalArgumentException("the passphrase must not be empty");
		}
		return new Passphrase(Normalizer.normalize(typed, Form.NFKC));
	}

	/** PBKDF2-HMAC-SHA-256 of its UTF-8 form (RFC 8018, 5.2), 256 bits. */
	byte[] derive(byte[] salt, int iterations) {
		var specification = new PBEKeySpec(this.typed.toCharArray(), salt, iterations, KEY_BITS);
		try {
			return SecretKeyFactory.getInstance(DERIVATION).generateSecret(specification).getEncoded();
		}
		catch (GeneralSecurityException ex) {
			throw new IllegalStateException("every Java platform has " + DERIVATION, ex);
		}
		finally {
			specification.clearPassword();
		}
	}

	String text() {
		return this.typed;
	}

	boolean isSame(Passphrase other) {
		return this.typed.equals(other.typed);
	}

	@Override
	public String toString() {
		return "Passphrase[]";
	}

}
