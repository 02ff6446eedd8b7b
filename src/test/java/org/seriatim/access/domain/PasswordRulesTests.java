package org.seriatim.access.domain;

import java.time.Duration;
import java.util.List;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.security.crypto.password.Pbkdf2PasswordEncoder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

class PasswordRulesTests {

	private static final String NAME = "l.hagen";

	private final PasswordRules rules = new PasswordRules(
			new SignInSettings(Duration.ofHours(12), Duration.ofMinutes(2), Duration.ofMinutes(5), Duration.ofHours(72),
					Duration.ofHours(1), Duration.ofDays(180), List.of("Hillside Clinic")));

	/* NIST SP 800-63B-4, 3.1.1.2: 15 alone, 8 beside a second factor. */
	@Test
	void asksForFifteenCharactersAloneAndEightBesideASecondFactor() {
		this.rules.check("grow slow hills", NAME, false);
		this.rules.check("lamp ape", NAME, true);
		assertRefused("grow slow hill", false, "too-short", 15);
		assertRefused("lamp ap", true, "too-short", 8);
	}

	@Test
	void takesLongOnesOfAnyScript() {
		this.rules.check("x1 ".repeat(20) + "abcdefgh", NAME, false);
		this.rules.check("vier kleine Füße 足が四つ", NAME, false);
		assertRefused("ab cd ef gh ".repeat(10) + "123456789", false, "too-long", 128);
	}

	/* Characters are counted as people count them, not as they are stored. */
	@Test
	void countsCharactersOutsideTheBasicPlaneOnce() {
		assertRefused("\uD83C\uDF4E\uD83C\uDF50\uD83C\uDF4A\uD83C\uDF4B\uD83C\uDF4C\uD83C\uDF49\uD83C\uDF47", true,
				"too-short", 8);
	}

	@ParameterizedTest
	@ValueSource(strings = { "password", "Password", "P@ssw0rd", "password2026!", "iloveyou", "1qaz2wsx", "12345678",
			"87654321", "qwertyuiop", "asdfghjk", "aaaaaaaa", "abcabcabc", "abcd1234", "qwert12345" })
	void refusesWhatIsGuessedFirst(String password) {
		assertRefused(password, true, "too-common", 0);
	}

	@ParameterizedTest
	@ValueSource(strings = { "passwordpassword", "123456789012345", "abcdefghijklmnop", "qwertyuiopasdfgh",
			"aaaabbbbccccdddd", "xyzxyzxyzxyzxyz" })
	void refusesLongOnesThatAreNoLongerThanTheyLook(String password) {
		assertRefused(password, false, "too-common", 0);
	}

	@ParameterizedTest
	@CsvSource({ "l.hagen 5x l.hagen", "hagen 2026 2026 2026", "seriatim seriatim", "Hillside Clinic 12345",
			"SERIATIM-hagen-007" })
	void refusesTheOwnNameTheServiceAndTheClinic(String password) {
		assertRefused(password, false, "too-easy", 0);
	}

	@Test
	void takesASentenceInWhichTheNameOccurs() {
		this.rules.check("hagen grows tall sunflowers", NAME, false);
	}

	@Test
	void demandsNoMixture() {
		this.rules.check("only small letters here", NAME, false);
		this.rules.check("5092 8317 6641 09", NAME, false);
	}

	/*
	 * NIST SP 800-63B-4, 3.1.1.2: normalised, so that one password is one from every
	 * keyboard.
	 */
	@Test
	void knowsOnePasswordInTwoSpellingsOfUnicode() {
		var passwords = new UnicodePasswords(Pbkdf2PasswordEncoder.defaultsForSpringSecurity_v5_8());
		var hash = passwords.encode("caf\u00e9 \ufb01ne on a small hill");
		assertThat(passwords.matches("cafe\u0301 fine on a small hill", hash)).isTrue();
		assertThat(passwords.matches("cafe fine on a small hill", hash)).isFalse();
	}

	private void assertRefused(String password, boolean secondFactor, String rule, int limit) {
		assertThatExceptionOfType(PasswordRefused.class)
			.isThrownBy(() -> this.rules.check(password, NAME, secondFactor))
			.satisfies((refused) -> assertThat(refused.rule()).isEqualTo(rule))
			.satisfies((refused) -> assertThat(refused.limit()).isEqualTo(limit));
	}

}
