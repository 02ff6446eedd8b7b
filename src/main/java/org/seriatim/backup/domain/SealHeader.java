package org.seriatim.backup.domain;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.util.Arrays;

import javax.crypto.Cipher;
import javax.crypto.Mac;
import javax.crypto.spec.GCMParameterSpec;
import javax.crypto.spec.SecretKeySpec;

/**
 * The first {@value #LENGTH} bytes of a backup, all numbers with the most significant
 * byte first: 8 bytes {@code SERIABAK}; 2 bytes format; 2 bytes key derivation; 4 bytes
 * iterations; 16 bytes salt; 4 bytes plain bytes in a full chunk; 7 bytes nonce prefix; 1
 * byte 0; 32 bytes HMAC-SHA-256 of all before under the header key; 32 bytes SHA-256 of
 * all before. The last tells damage from a wrong passphrase.
 * <p>
 * Chunks follow, each encrypted by AES-256-GCM under the content key, with its tag behind
 * it. All but the last are full. The nonce is prefix, number of the chunk from 0 in 4
 * bytes, and 1 for the last chunk, else 0; the first {@value #DESCRIBED} bytes of the
 * header are authenticated with each. So no chunk can be changed, left out, added, moved
 * or taken from another file. (The construction is STREAM: Hoang, Reyhanitabar, Rogaway,
 * Vizár, CRYPTO 2015.)
 * <p>
 * Both keys are HMAC-SHA-256 of their name under what the passphrase derives.
 */
final class SealHeader {

	static final int FORMAT = 1;

	/**
	 * OWASP Password Storage Cheat Sheet for PBKDF2-HMAC-SHA-256 (read in 2026).
	 */
	static final int ITERATIONS = 600_000;

	/** Beyond it a file could keep the machine busy for hours. */
	private static final int MOST_ITERATIONS = 20_000_000;

	static final int CHUNK = 1 << 20;

	private static final int LARGEST_CHUNK = 1 << 24;

	static final int TAG = 16;

	static final int LENGTH = 108;

	static final int DESCRIBED = 44;

	private static final int MAC_BYTES = 32;

	private static final byte[] MAGIC = "SERIABAK".getBytes(StandardCharsets.US_ASCII);

	private static final int PBKDF2_HMAC_SHA_256 = 1;

	private static final int SALT = 16;

	private static final int NONCE_PREFIX = 7;

	private static final int TAG_BITS = TAG * Byte.SIZE;

	private final byte[] described;

	private final byte[] noncePrefix;

	private final int chunk;

	private final byte[] headerKey;

	private final SecretKeySpec contentKey;

	private SealHeader(byte[] described, byte[] salt, int iterations, int chunk, byte[] noncePrefix,
			Passphrase passphrase) {
		this.described = described;
		this.chunk = chunk;
		this.noncePrefix = noncePrefix;
		byte[] master = passphrase.derive(salt, iterations);
		this.headerKey = mac(master, "seriatim backup header".getBytes(StandardCharsets.US_ASCII));
		this.contentKey = new SecretKeySpec(mac(master, "seriatim backup content".getBytes(StandardCharsets.US_ASCII)),
				"AES");
		Arrays.fill(master, (byte) 0);
	}

	/** With a salt and nonces that no other file has. */
	static SealHeader fresh(Passphrase passphrase, int iterations, int chunk) {
		var random = new SecureRandom();
		byte[] salt = new byte[SALT];
		byte[] noncePrefix = new byte[NONCE_PREFIX];
		random.nextBytes(salt);
		random.nextBytes(noncePrefix);
		byte[] described = ByteBuffer.allocate(DESCRIBED)
			.put(MAGIC)
			.putShort((short) FORMAT)
			.putShort((short) PBKDF2_HMAC_SHA_256)
			.putInt(iterations)
			.put(salt)
			.putInt(chunk)
			.put(noncePrefix)
			.put((byte) 0)
			.array();
		return new SealHeader(described, salt, iterations, chunk, noncePrefix, passphrase);
	}

	/**
	 * @throws BackupRefused if this is no header, or not as it was written, or the
	 * passphrase is another one
	 */
	static SealHeader read(InputStream in, Passphrase passphrase) throws IOException {
		byte[] bytes = in.readNBytes(LENGTH);
		if (!Arrays.equals(MAGIC, 0, MAGIC.length, bytes, 0, Math.min(bytes.length, MAGIC.length))) {
			throw BackupRefused.damaged("This file is no backup of Seriatim, or its beginning is damaged.");
		}
		if (bytes.length < LENGTH) {
			throw BackupRefused.damaged("The file ends too early, within its first bytes.");
		}
		byte[] checked = Arrays.copyOf(bytes, LENGTH - MAC_BYTES);
		if (!MessageDigest.isEqual(sha256(checked), Arrays.copyOfRange(bytes, LENGTH - MAC_BYTES, LENGTH))) {
			throw BackupRefused.damaged("The file is damaged in its first bytes.");
		}
		var fields = ByteBuffer.wrap(bytes).position(MAGIC.length);
		int format = fields.getShort();
		int derivation = fields.getShort();
		if (format != FORMAT || derivation != PBKDF2_HMAC_SHA_256) {
			throw new BackupRefused(
					"This backup has format %d, which this version of Seriatim does not know. ".formatted(format)
							+ "Read it with the version that made it, or a later one.");
		}
		int iterations = fields.getInt();
		byte[] salt = new byte[SALT];
		fields.get(salt);
		int chunk = fields.getInt();
		byte[] noncePrefix = new byte[NONCE_PREFIX];
		fields.get(noncePrefix);
		if (iterations < 1 || iterations > MOST_ITERATIONS || chunk < 1 || chunk > LARGEST_CHUNK) {
			throw BackupRefused.damaged("The first bytes of the file say what no backup says.");
		}
		byte[] described = Arrays.copyOf(bytes, DESCRIBED);
		var header = new SealHeader(described, salt, iterations, chunk, noncePrefix, passphrase);
		if (!MessageDigest.isEqual(mac(header.headerKey, described),
				Arrays.copyOfRange(bytes, DESCRIBED, DESCRIBED + MAC_BYTES))) {
			throw new BackupRefused(BackupRefused.Reason.WRONG_PASSPHRASE,
					"The passphrase does not open this backup. It is the one that was set when the backup was made.",
					null);
		}
		return header;
	}

	byte[] bytes() {
		byte[] checked = ByteBuffer.allocate(LENGTH - MAC_BYTES)
			.put(this.described)
			.put(mac(this.headerKey, this.described))
			.array();
		return ByteBuffer.allocate(LENGTH).put(checked).put(sha256(checked)).array();
	}

	/** How many plain bytes a full chunk holds. */
	int chunk() {
		return this.chunk;
	}

	/**
	 * Encrypts or decrypts one chunk.
	 * @param mode of {@link Cipher}
	 */
	byte[] apply(int mode, long number, boolean last, byte[] in, int length) throws GeneralSecurityException {
		if (number >>> Integer.SIZE != 0) {
			throw new IllegalArgumentException("no file has a chunk " + number);
		}
		byte[] nonce = ByteBuffer.allocate(NONCE_PREFIX + Integer.BYTES + 1)
			.put(this.noncePrefix)
			.putInt((int) number)
			.put((byte) (last ? 1 : 0))
			.array();
		var cipher = Cipher.getInstance("AES/GCM/NoPadding");
		cipher.init(mode, this.contentKey, new GCMParameterSpec(TAG_BITS, nonce));
		cipher.updateAAD(this.described);
		return cipher.doFinal(in, 0, length);
	}

	private static byte[] sha256(byte[] bytes) {
		return Digests.sha256().digest(bytes);
	}

	private static byte[] mac(byte[] key, byte[] text) {
		try {
			var mac = Mac.getInstance("HmacSHA256");
			mac.init(new SecretKeySpec(key, "HmacSHA256"));
			return mac.doFinal(text);
		}
		catch (GeneralSecurityException ex) {
			throw new IllegalStateException("every Java platform has HmacSHA256", ex);
		}
	}

}
