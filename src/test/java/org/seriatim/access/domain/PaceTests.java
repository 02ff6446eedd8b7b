package org.seriatim.access.domain;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;

class PaceTests {

	private static final Instant START = Instant.parse("2026-11-20T09:00:00Z");

	private final Pace pace = new Pace(3, Duration.ofSeconds(5), Duration.ofMinutes(1), Duration.ofHours(1));

	private Pace.Held held = new Pace.Held(0, START, START);

	@Test
	void letsTheFirstFewFollowEachOther() {
		assertThat(pauses(3)).containsOnly(Duration.ZERO);
	}

	@Test
	void doublesThePauseUpToTheLongest() {
		pauses(3);
		assertThat(pauses(6)).containsExactly(Duration.ofSeconds(5), Duration.ofSeconds(10), Duration.ofSeconds(20),
				Duration.ofSeconds(40), Duration.ofMinutes(1), Duration.ofMinutes(1));
	}

	@Test
	void neverOverflows() {
		assertThat(pauses(200).get(199)).isEqualTo(Duration.ofMinutes(1));
	}

	@Test
	void forgetsOneWithTime() {
		pauses(4);
		this.held = this.pace.counted(this.held, START.plus(Duration.ofHours(2)));
		assertThat(this.held.failed()).isEqualTo(3);
		assertThat(this.held.waits(START.plus(Duration.ofHours(2)))).isFalse();
	}

	@Test
	void takesOneBackThatWasRight() {
		pauses(4);
		this.held = this.pace.forgiven(this.held);
		assertThat(this.held.failed()).isEqualTo(3);
		assertThat(this.held.waits(START)).isFalse();
	}

	/** Each guess is made as soon as it may. */
	private List<Duration> pauses(int guesses) {
		var pauses = new ArrayList<Duration>();
		for (int i = 0; i < guesses; i++) {
			this.held = this.pace.counted(this.held, this.held.notBefore());
			pauses.add(Duration.between(this.held.lastAt(), this.held.notBefore()));
		}
		return pauses;
	}

}
