package org.seriatim.access.web;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Base64;
import java.util.Set;
import java.util.stream.Stream;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.access.AccountRegister;
import org.seriatim.access.Role;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestClock;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.crypto.password.Pbkdf2PasswordEncoder;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import static org.assertj.core.api.Assertions.assertThat;

@PageTest
class SignInPageTests {

	private static final String PASSWORD = "small steps on a long way";

	private static final String CLINIC = "192.0.2.10";

	private static final String ELSEWHERE = "198.51.100.7";

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private AccountRegister accounts;

	@Autowired
	private JdbcClient database;

	@Autowired
	private TestClock clock;

	@BeforeEach
	void openAnAccount() {
		this.accounts.open("i.sandell", Set.of(Role.PRACTITIONER), PASSWORD);
	}

	@Test
	void leadsToThePageThatWasAskedFor() {
		var visitor = at(CLINIC).open("/patients");
		assertThat(visitor.leadsTo()).isEqualTo("/sign-in");
		assertThat(visitor.follow().send("/sign-in", "name", "i.sandell", "password", PASSWORD).leadsTo())
			.startsWith("/patients");
		assertThat(visitor.follow().status()).isEqualTo(200);
	}

	@Test
	void answersAWrongPasswordAnUnknownNameAndAnInactiveAccountAlike() {
		var wrong = at(CLINIC).signIn("i.sandell", "another long way round");
		assertThat(wrong.status()).isEqualTo(422);
		assertThat(at(CLINIC).signIn("n.obody", PASSWORD).text()).isEqualTo(wrong.text());
		this.database.sql("update account set active = false").update();
		assertThat(at(CLINIC).signIn("i.sandell", PASSWORD).text()).isEqualTo(wrong.text());
		this.database.sql("update account set active = true, password = null").update();
		assertThat(at(CLINIC).signIn("i.sandell", "").status()).isEqualTo(422);
		assertThat(at(CLINIC).signIn("i.sandell", PASSWORD).text()).isEqualTo(wrong.text());
	}

	@Test
	void keepsTheNameAndForgetsThePasswordWhenItRefuses() {
		var visitor = at(CLINIC).signIn("i.sandell", "another long way round");
		assertThat(visitor.page().selectFirst("input[name=name]").val()).isEqualTo("i.sandell");
		assertThat(visitor.answer()).bodyText().doesNotContain("another long way round");
	}

	/* OWASP ASVS 5.0.0, 6.2.8: exactly as it was typed. */
	@Test
	void takesAPasswordAsItIsTyped() {
		this.accounts.open("m.tarrow", Set.of(Role.PRACTITIONER), "  two spaces before it");
		assertThat(at(CLINIC).signIn("m.tarrow", "two spaces before it").status()).isEqualTo(422);
		assertThat(at(CLINIC).signIn("m.tarrow", "  two spaces before it").leadsTo()).isEqualTo("/");
	}

	/*
	 * Rounds as of Spring Security 5.8, which OWASP's Password Storage Cheat Sheet (2023)
	 * has nearly doubled since.
	 */
	@Test
	void hashesAPasswordAnewThatWasHashedWithFewerRounds() {
		var old = "{pbkdf2}" + Pbkdf2PasswordEncoder.defaultsForSpringSecurity_v5_8().encode(PASSWORD);
		this.database.sql("update account set password = ?").param(old).update();

		assertThat(at(CLINIC).signIn("i.sandell", "another long way round").status()).isEqualTo(422);
		assertThat(hash()).isEqualTo(old);
		assertThat(at(CLINIC).signIn("i.sandell", PASSWORD).leadsTo()).isEqualTo("/");
		assertThat(hash()).doesNotStartWith("{pbkdf2}");
		assertThat(at(CLINIC).signIn("i.sandell", PASSWORD).leadsTo()).isEqualTo("/");
	}

	private String hash() {
		return this.database.sql("select password from account").query(String.class).single();
	}

	@Test
	void givesTheSessionAnotherIdAtTheSignIn() {
		var visitor = at(CLINIC).open("/sign-in");
		var before = visitor.sessionCookie();
		visitor.send("/sign-in", "name", "i.sandell", "password", PASSWORD);
		assertThat(visitor.sessionCookie()).isNotEqualTo(before);
	}

	/*
	 * OWASP ASVS 5.0.0, 7.2.3: at least 128 random bits. Of 36 places, each that takes
	 * more than 32 different characters holds more than five.
	 */
	@Test
	void givesTheSessionAnIdThatNobodyGuesses() {
		var ids = Stream.generate(() -> sessionId(at(CLINIC).open("/sign-in"))).limit(10).toList();
		assertThat(ids).doesNotHaveDuplicates().noneMatch((id) -> id.matches("[0-9a-f-]{36}"));
		var generator = new SessionIds();
		var many = Stream.generate(generator::generate).limit(1_000).toList();
		for (int place = 0; place < 36; place++) {
			int at = place;
			assertThat(many.stream().map((id) -> id.charAt(at)).distinct().count()).isGreaterThan(32);
		}
	}

	private static String sessionId(Visitor visitor) {
		return new String(Base64.getDecoder().decode(visitor.sessionCookie()), StandardCharsets.US_ASCII);
	}

	/* OWASP ASVS 5.0.0, 7.4.1. */
	@Test
	void takesASessionThatWasSignedOutForNobodys() {
		var visitor = at(CLINIC).signIn("i.sandell", PASSWORD).follow();
		var cookie = visitor.sessionCookie();
		assertThat(visitor.open("/account").send("/sign-out").leadsTo()).startsWith("/sign-in");
		assertThat(at(CLINIC).keep("seriatim", cookie).open("/patients").leadsTo()).isEqualTo("/sign-in");
	}

	@Test
	void slowsGuessingDownAndSaysHowLongToWait() {
		for (int guess = 1; guess <= 6; guess++) {
			assertThat(at(ELSEWHERE).signIn("i.sandell", "guess number " + guess).status()).isEqualTo(422);
		}
		var early = at(ELSEWHERE).signIn("i.sandell", PASSWORD);
		assertThat(early.status()).isEqualTo(429);
		assertThat(early.answer().getResponse().getHeader("Retry-After")).isEqualTo("5");
		assertThat(early.text()).contains("Try again in 5 seconds");
		this.clock.advance(Duration.ofSeconds(5));
		assertThat(at(ELSEWHERE).signIn("i.sandell", PASSWORD).leadsTo()).isEqualTo("/");
	}

	/* A clock is finer than the database, which rounds up. */
	@Test
	void looksAtAFirstAttemptAtAnyFractionOfASecond() {
		this.clock.setTo(TestClock.START.plusNanos(999_999_999));
		assertThat(at(CLINIC).signIn("i.sandell", PASSWORD).leadsTo()).isEqualTo("/");
	}

	@Test
	void slowsGuessingAtAnUnknownNameDownAlike() {
		for (int guess = 1; guess <= 6; guess++) {
			at(ELSEWHERE).signIn("n.obody", "guess number " + guess);
		}
		assertThat(at(ELSEWHERE).signIn("n.obody", PASSWORD).status()).isEqualTo(429);
	}

	@Test
	void opensToTheOwnersBrowserAndFromAnotherAddressWhileOthersGuess() {
		var own = at(CLINIC);
		own.signIn("i.sandell", PASSWORD).follow();
		own.forgetSession();
		for (int guess = 1; guess <= 7; guess++) {
			at(ELSEWHERE).signIn("i.sandell", "guess number " + guess);
		}
		assertThat(at(ELSEWHERE).signIn("i.sandell", PASSWORD).status()).isEqualTo(429);
		assertThat(own.from(ELSEWHERE).signIn("i.sandell", PASSWORD).leadsTo()).as("the own browser, wherever it is")
			.isEqualTo("/");
		assertThat(at("203.0.113.99").signIn("i.sandell", PASSWORD).leadsTo()).as("another address").isEqualTo("/");
	}

	@Test
	void doesNotTakeABrowsersWordThatItIsKnown() {
		var own = at(CLINIC);
		own.signIn("i.sandell", PASSWORD).follow();
		var forged = at(ELSEWHERE);
		forged.keep("seriatim-device", own.cookie("seriatim-device") + "x");
		for (int guess = 1; guess <= 6; guess++) {
			at(ELSEWHERE).signIn("i.sandell", "guess number " + guess);
		}
		assertThat(forged.signIn("i.sandell", PASSWORD).status()).isEqualTo(429);
	}

	@Test
	void keepsNothingOfWhatWasTyped() {
		at(ELSEWHERE).signIn("n.obody", "something secret here");
		var kept = this.database.sql("select string_agg(guess::text, ' ') from guess").query(String.class).single();
		assertThat(kept).isNotEmpty().doesNotContain("n.obody").doesNotContain(ELSEWHERE);
	}

	private Visitor at(String address) {
		return new Visitor(this.pages, address);
	}

}
