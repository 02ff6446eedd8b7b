package org.seriatim.access.domain;

import java.nio.charset.StandardCharsets;
import java.time.Instant;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import static org.assertj.core.api.Assertions.assertThat;

class TotpTests {

	/** The secret of both documents' test vectors. */
	private static final byte[] SECRET = "12345678901234567890".getBytes(StandardCharsets.US_ASCII);

	/* RFC 4226, appendix D, the column HOTP. */
	@ParameterizedTest
	@CsvSource({ "0, 755224", "1, 287082", "2, 359152", "3, 969429", "4, 338314", "5, 254676", "6, 287922", "7, 162583",
			"8, 399871", "9, 520489" })
	void givesTheOneTimePasswordsOfRfc4226(long counter, String code) {
		assertThat(Totp.code(SECRET, counter, 6)).isEqualTo(code);
	}

	/* RFC 6238, appendix B, the rows of SHA1. */
	@ParameterizedTest
	@CsvSource({ "59, 94287082", "1111111109, 07081804", "1111111111, 14050471", "1234567890, 89005924",
			"2000000000, 69279037", "20000000000, 65353130" })
	void givesTheTimeBasedOnesOfRfc6238(long seconds, String code) {
		assertThat(Totp.code(SECRET, Totp.step(Instant.ofEpochSecond(seconds)), 8)).isEqualTo(code);
	}

	/*
	 * RFC 6238, 4.2: with a step of 30 seconds the step at 59 seconds is 1, at 60 it is
	 * 2.
	 */
	@Test
	void countsStepsOfThirtySeconds() {
		assertThat(Totp.step(Instant.ofEpochSecond(59))).isEqualTo(1);
		assertThat(Totp.step(Instant.ofEpochSecond(60))).isEqualTo(2);
	}

	/* RFC 4648, 10, without the padding. */
	@ParameterizedTest
	@CsvSource({ "'', ''", "f, MY", "fo, MZXQ", "foo, MZXW6", "foob, MZXW6YQ", "fooba, MZXW6YTB",
			"foobar, MZXW6YTBOI" })
	void writesBase32AsRfc4648(String text, String base32) {
		assertThat(Base32.encode(text.getBytes(StandardCharsets.US_ASCII))).isEqualTo(base32);
	}

}
