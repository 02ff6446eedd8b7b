package org.seriatim.backup.domain;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.Random;

import javax.crypto.Cipher;
import javax.crypto.Mac;
import javax.crypto.spec.GCMParameterSpec;
import javax.crypto.spec.SecretKeySpec;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.seriatim.backup.domain.BackupRefused.Reason;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

/** Only the passphrase opens it, and only as it was written. */
class SealTests {

	private static final Passphrase PASSPHRASE = Passphrase.of("nine calm herons wade");

	private static final int ITERATIONS = 2;

	private static final int CHUNK = 32;

	private static final int SEALED_CHUNK = CHUNK + SealHeader.TAG;

	/** 100 bytes: three full chunks and one of four. */
	private static final byte[] CONTENT = bytes(100);

	@ParameterizedTest
	@ValueSource(ints = { 0, 1, 31, 32, 33, 64, 100 })
	void givesBackWhatWasSealed(int length) {
		byte[] content = bytes(length);
		assertThat(open(seal(content), PASSPHRASE)).isEqualTo(content);
	}

	@Test
	void refusesEveryFlippedBit() {
		byte[] sealed = seal(CONTENT);
		for (int at = 0; at < sealed.length; at++) {
			for (int bit = 0; bit < Byte.SIZE; bit++) {
				byte[] damaged = sealed.clone();
				damaged[at] ^= (byte) (1 << bit);
				assertThat(refusal(damaged)).as("bit %d of byte %d", bit, at).isEqualTo(Reason.DAMAGED);
			}
		}
	}

	@Test
	void refusesEveryBeginningOfAFile() {
		byte[] sealed = seal(CONTENT);
		for (int length = 0; length < sealed.length; length++) {
			assertThat(refusal(Arrays.copyOf(sealed, length))).as("%d bytes", length).isEqualTo(Reason.DAMAGED);
		}
	}

	@Test
	void saysThatAFileEndsTooEarlyAlsoBetweenTwoChunks() {
		byte[] cutOff = Arrays.copyOf(seal(CONTENT), SealHeader.LENGTH + 2 * SEALED_CHUNK);
		assertThatExceptionOfType(BackupRefused.class).isThrownBy(() -> open(cutOff, PASSPHRASE))
			.withMessageContaining("ends too early");
	}

	@Test
	void refusesChunksThatChangedPlacesOrWereLeftOutOrRepeated() {
		byte[] sealed = seal(CONTENT);
		assertThat(refusal(inOrder(sealed, 1, 0, 2, 3))).isEqualTo(Reason.DAMAGED);
		assertThat(refusal(inOrder(sealed, 0, 2, 3))).isEqualTo(Reason.DAMAGED);
		assertThat(refusal(inOrder(sealed, 0, 1, 1, 2, 3))).isEqualTo(Reason.DAMAGED);
		assertThat(refusal(inOrder(sealed, 0, 1, 2, 3, 3))).isEqualTo(Reason.DAMAGED);
		assertThat(open(inOrder(sealed, 0, 1, 2, 3), PASSPHRASE)).isEqualTo(CONTENT);
	}

	@Test
	void refusesAChunkOfAnotherFileOfTheSamePassphrase() {
		byte[] sealed = seal(CONTENT);
		byte[] other = seal(CONTENT);
		System.arraycopy(other, SealHeader.LENGTH, sealed, SealHeader.LENGTH, SEALED_CHUNK);
		assertThat(refusal(sealed)).isEqualTo(Reason.DAMAGED);
	}

	@Test
	void refusesWhatFollowsTheEnd() {
		byte[] longer = Arrays.copyOf(seal(CONTENT), seal(CONTENT).length + 1);
		assertThat(refusal(longer)).isEqualTo(Reason.DAMAGED);
	}

	@Test
	void tellsAWrongPassphraseFromADamagedFile() {
		byte[] sealed = seal(CONTENT);
		assertThatExceptionOfType(BackupRefused.class)
			.isThrownBy(() -> open(sealed, Passphrase.of("nine calm herons fly")))
			.withMessageContaining("passphrase does not open")
			.extracting(BackupRefused::reason)
			.isEqualTo(Reason.WRONG_PASSPHRASE);
	}

	@Test
	void takesThePassphraseFromAnyKeyboard() {
		byte[] sealed = seal(CONTENT, Passphrase.of("nine calm h\u00E9rons"));
		assertThat(open(sealed, Passphrase.of("nine calm he\u0301rons"))).isEqualTo(CONTENT);
	}

	/**
	 * RFC 7914, section 11: the first 32 bytes of PBKDF2-HMAC-SHA-256 for "passwd",
	 * "salt" and one iteration.
	 */
	@Test
	void derivesAsPublished() {
		assertThat(HexFormat.of().formatHex(Passphrase.of("passwd").derive("salt".getBytes(), 1)))
			.isEqualTo("55ac046e56e3089fec1691c22544b605f94185216dde0465e68b9d57c20dacbc");
	}

	/**
	 * As somebody would read a chunk who has nothing but the description of the format.
	 */
	@Test
	void canBeOpenedByItsDescriptionAlone() throws Exception {
		byte[] sealed = seal(CONTENT);
		var fields = ByteBuffer.wrap(sealed);
		byte[] magic = new byte[8];
		fields.get(magic);
		assertThat(new String(magic)).isEqualTo("SERIABAK");
		assertThat(fields.getShort()).isEqualTo((short) 1);
		assertThat(fields.getShort()).isEqualTo((short) 1);
		int iterations = fields.getInt();
		byte[] salt = new byte[16];
		fields.get(salt);
		int chunk = fields.getInt();
		byte[] nonce = new byte[12];
		fields.get(nonce, 0, 7);
		nonce[10] = 1;
		var mac = Mac.getInstance("HmacSHA256");
		mac.init(new SecretKeySpec(PASSPHRASE.derive(salt, iterations), "HmacSHA256"));
		var key = new SecretKeySpec(mac.doFinal("seriatim backup content".getBytes()), "AES");
		var cipher = Cipher.getInstance("AES/GCM/NoPadding");
		cipher.init(Cipher.DECRYPT_MODE, key, new GCMParameterSpec(128, nonce));
		cipher.updateAAD(sealed, 0, 44);
		assertThat(cipher.doFinal(sealed, 108 + chunk + 16, chunk + 16))
			.isEqualTo(Arrays.copyOfRange(CONTENT, chunk, 2 * chunk));
	}

	private static byte[] inOrder(byte[] sealed, int... chunks) {
		var out = new ByteArrayOutputStream();
		out.write(sealed, 0, SealHeader.LENGTH);
		for (int chunk : chunks) {
			int from = SealHeader.LENGTH + chunk * SEALED_CHUNK;
			out.write(sealed, from, Math.min(SEALED_CHUNK, sealed.length - from));
		}
		return out.toByteArray();
	}

	private static Reason refusal(byte[] sealed) {
		try {
			open(sealed, PASSPHRASE);
			return null;
		}
		catch (BackupRefused ex) {
			return ex.reason();
		}
	}

	private static byte[] seal(byte[] content) {
		return seal(content, PASSPHRASE);
	}

	private static byte[] seal(byte[] content, Passphrase passphrase) {
		var out = new ByteArrayOutputStream();
		try {
			var sealing = new SealingStream(out, SealHeader.fresh(passphrase, ITERATIONS, CHUNK));
			sealing.write(content);
			sealing.finish();
			return out.toByteArray();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private static byte[] open(byte[] sealed, Passphrase passphrase) {
		try (var in = new OpeningStream(new ByteArrayInputStream(sealed), passphrase)) {
			return in.readAllBytes();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private static byte[] bytes(int length) {
		byte[] bytes = new byte[length];
		new Random(20_261_201).nextBytes(bytes);
		return bytes;
	}

}
