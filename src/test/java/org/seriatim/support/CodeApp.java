package org.seriatim.support;

import java.nio.ByteBuffer;
import java.security.GeneralSecurityException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Locale;

import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * The app on somebody's telephone: reads a secret from a page and shows codes. Written
 * from RFC 4226, 5.4, apart from the code that it tests.
 */
public final class CodeApp {

	private static final String LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

	private final byte[] secret;

	private CodeApp(byte[] secret) {
		this.secret = secret;
	}

	/** Reads base32 in groups, as a page shows it. */
	public static CodeApp reading(String shown) {
		var bits = new StringBuilder();
		shown.replace(" ", "").chars().forEach((letter) -> {
			String five = Integer.toBinaryString(LETTERS.indexOf(letter));
			bits.append("0".repeat(5 - five.length())).append(five);
		});
		byte[] secret = new byte[bits.length() / 8];
		for (int i = 0; i < secret.length; i++) {
			secret[i] = (byte) Integer.parseInt(bits.substring(8 * i, 8 * i + 8), 2);
		}
		return new CodeApp(secret);
	}

	public byte[] secret() {
		return this.secret.clone();
	}

	public String code(Clock clock) {
		return code(clock, Duration.ZERO);
	}

	/** What it shows so much later, or earlier. */
	public String code(Clock clock, Duration later) {
		Instant at = clock.instant().plus(later);
		try {
			var mac = Mac.getInstance("HmacSHA1");
			mac.init(new SecretKeySpec(this.secret, "RAW"));
			byte[] hs = mac.doFinal(ByteBuffer.allocate(8).putLong(at.getEpochSecond() / 30).array());
			int offset = hs[19] & 0xf;
			int number = (hs[offset] & 0x7f) << 24 | (hs[offset + 1] & 0xff) << 16 | (hs[offset + 2] & 0xff) << 8
					| hs[offset + 3] & 0xff;
			return String.format(Locale.ROOT, "%06d", number % 1_000_000);
		}
		catch (GeneralSecurityException ex) {
			throw new IllegalStateException(ex);
		}
	}

}
