package org.seriatim.access.domain;

import java.nio.ByteBuffer;
import java.security.GeneralSecurityException;
import java.time.Instant;

import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * Codes from a shared secret and the time: RFC 6238 with its default step of 30 seconds
 * and HMAC-SHA-1, over the one-time passwords of RFC 4226. Six figures are what the apps
 * for telephones agree on.
 */
final class Totp {

	static final int FIGURES = 6;

	/** RFC 4226, 4 (R6): at least 128 bits, better 160. */
	static final int SECRET_BYTES = 20;

	private static final int STEP_SECONDS = 30;

	private static final String MAC = "HmacSHA1";

	private Totp() {
	}

	/** The number of the time step, counted from 1970 (RFC 6238, 4.2). */
	static long step(Instant at) {
		return Math.floorDiv(at.getEpochSecond(), STEP_SECONDS);
	}

	/** The code of one step (RFC 4226, 5.3). */
	static String code(byte[] secret, long step, int figures) {
		byte[] mac = mac(secret, ByteBuffer.allocate(Long.BYTES).putLong(step).array());
		int offset = mac[mac.length - 1] & 0x0f;
		int number = ByteBuffer.wrap(mac, offset, Integer.BYTES).getInt() & Integer.MAX_VALUE;
		return ("%0" + figures + "d").formatted(number % (long) Math.pow(10, figures));
	}

	private static byte[] mac(byte[] secret, byte[] counter) {
		try {
			var mac = Mac.getInstance(MAC);
			mac.init(new SecretKeySpec(secret, MAC));
			return mac.doFinal(counter);
		}
		catch (GeneralSecurityException ex) {
			throw new IllegalStateException("every Java platform has " + MAC, ex);
		}
	}

}
