package org.seriatim.access.domain;

import java.time.Duration;

import org.junit.jupiter.api.Test;
import org.seriatim.access.domain.Guesses.Kind;
import org.seriatim.access.domain.Guesses.Origin;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestClock;
import org.springframework.beans.factory.annotation.Autowired;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

/** Guesses are committed as they are made, as those of strangers are. */
@PageTest
class GuessesTests {

	private static final Origin OWN_BROWSER = new Origin("192.0.2.10", "a mark");

	@Autowired
	private Guesses guesses;

	@Autowired
	private TestClock clock;

	/* NIST SP 800-63B-4, 3.2.2: no more than 100 failed attempts in a row. */
	@Test
	void takesNoMoreThanAHundredOfManyStrangersAndStaysOpenToItsOwner() {
		assertThat(takenOf(120, "i.sandell", "203.0.113.")).isEqualTo(100);
		this.guesses.right(this.guesses.count(Kind.PASSWORD, "I.Sandell", OWN_BROWSER));
		this.clock.advance(Duration.ofMinutes(15));
		assertThat(takenOf(5, "i.sandell", "198.51.100.")).as("one in a quarter of an hour").isEqualTo(1);
	}

	@Test
	void doesNotLetOneAddressShutAnAccountForOtherAddresses() {
		var attacker = new Origin("203.0.113.7", "");
		int looks = 0;
		for (int minute = 0; minute < 24 * 60; minute += 5) {
			try {
				this.guesses.count(Kind.PASSWORD, "i.sandell", attacker);
				looks++;
			}
			catch (TooManyGuesses ex) {
				assertThat(ex.seconds()).isPositive();
			}
			this.clock.advance(Duration.ofMinutes(5));
		}
		assertThat(looks).as("in a whole day").isLessThan(60);
		this.guesses.count(Kind.PASSWORD, "i.sandell", new Origin("192.0.2.77", ""));
	}

	@Test
	void slowsOneAddressDownThatTriesManyNames() {
		int taken = 0;
		for (int name = 1; name <= 60; name++) {
			try {
				this.guesses.count(Kind.PASSWORD, "name." + name, new Origin("203.0.113.7", ""));
				taken++;
			}
			catch (TooManyGuesses ex) {
				assertThat(ex.seconds()).isPositive();
			}
		}
		assertThat(taken).isEqualTo(51);
	}

	@Test
	void startsAnewAfterARightOne() {
		for (int i = 1; i <= 4; i++) {
			this.guesses.count(Kind.CODE, "i.sandell", OWN_BROWSER);
		}
		this.guesses.right(this.guesses.count(Kind.CODE, "i.sandell", OWN_BROWSER));
		for (int i = 1; i <= 6; i++) {
			this.guesses.count(Kind.CODE, "i.sandell", OWN_BROWSER);
		}
		assertThatExceptionOfType(TooManyGuesses.class)
			.isThrownBy(() -> this.guesses.count(Kind.CODE, "i.sandell", OWN_BROWSER));
		this.guesses.count(Kind.PASSWORD, "i.sandell", OWN_BROWSER);
	}

	private int takenOf(int strangers, String name, String network) {
		int taken = 0;
		for (int stranger = 1; stranger <= strangers; stranger++) {
			try {
				this.guesses.count(Kind.PASSWORD, name, new Origin(network + stranger, ""));
				taken++;
			}
			catch (TooManyGuesses ex) {
				assertThat(ex.seconds()).isPositive();
			}
		}
		return taken;
	}

}
