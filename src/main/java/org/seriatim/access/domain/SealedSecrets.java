package org.seriatim.access.domain;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.SecureRandom;
import java.util.Optional;
import java.util.UUID;

import javax.crypto.Cipher;
import javax.crypto.spec.GCMParameterSpec;
import javax.crypto.spec.SecretKeySpec;

import org.springframework.stereotype.Component;

/**
 * Keeps the secrets of second factors unreadable in the database and its backups:
 * AES-256-GCM under the installation's key, bound to the account, so that a row cannot be
 * given to another one.
 */
@Component
class SealedSecrets {

	private static final String CIPHER = "AES/GCM/NoPadding";

	private static final int NONCE_BYTES = 12;

	private static final int TAG_BITS = 128;

	private final ServiceKey key;

	private final SecureRandom random = new SecureRandom();

	SealedSecrets(ServiceKey key) {
		this.key = key;
	}

	byte[] seal(UUID account, byte[] secret) {
		byte[] nonce = new byte[NONCE_BYTES];
		this.random.nextBytes(nonce);
		try {
			byte[] sealed = cipher(Cipher.ENCRYPT_MODE, account, nonce).doFinal(secret);
			return ByteBuffer.allocate(nonce.length + sealed.length).put(nonce).put(sealed).array();
		}
		catch (GeneralSecurityException ex) {
			throw new IllegalStateException("every Java platform has " + CIPHER, ex);
		}
	}

	/** Empty where it was sealed under another key, or for another account. */
	Optional<byte[]> open(UUID account, byte[] sealed) {
		try {
			byte[] nonce = new byte[NONCE_BYTES];
			ByteBuffer.wrap(sealed).get(nonce);
			return Optional.of(cipher(Cipher.DECRYPT_MODE, account, nonce).doFinal(sealed, NONCE_BYTES,
					sealed.length - NONCE_BYTES));
		}
		catch (GeneralSecurityException ex) {
			return Optional.empty();
		}
	}

	private Cipher cipher(int mode, UUID account, byte[] nonce) throws GeneralSecurityException {
		var cipher = Cipher.getInstance(CIPHER);
		cipher.init(mode, new SecretKeySpec(this.key.forPurpose("second factor"), "AES"),
				new GCMParameterSpec(TAG_BITS, nonce));
		cipher.updateAAD(account.toString().getBytes(StandardCharsets.US_ASCII));
		return cipher;
	}

}
