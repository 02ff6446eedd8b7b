package org.seriatim.access.domain;

import java.time.Duration;
import java.time.Instant;

/**
 * How fast guesses may follow each other in one place. The first few are free; after that
 * the pause doubles with each up to a longest one. Time forgives: one guess is forgotten
 * every while.
 *
 * @param free guesses without a pause
 * @param first the pause after the first guess that is not free
 * @param longest the longest pause
 * @param forgets how long it takes to forget one guess
 */
record Pace(int free, Duration first, Duration longest, Duration forgets) {

	/** A longer shift would not change the longest pause. */
	private static final int MOST_DOUBLINGS = 30;

	/**
	 * What is held against a place.
	 *
	 * @param failed guesses, less those that time has forgotten
	 * @param lastAt when the last was counted
	 * @param notBefore when the next may come
	 */
	record Held(int failed, Instant lastAt, Instant notBefore) {

		boolean waits(Instant now) {
			return now.isBefore(this.notBefore);
		}

	}

	/** Counts one more guess, made now. */
	Held counted(Held until, Instant now) {
		int failed = remembered(until, now) + 1;
		return new Held(failed, now, now.plus(pause(failed)));
	}

	/** Takes back one guess that turned out right. */
	Held forgiven(Held counted) {
		return new Held(Math.max(0, counted.failed() - 1), counted.lastAt(), counted.lastAt());
	}

	private int remembered(Held held, Instant now) {
		long forgotten = Math.max(0, Duration.between(held.lastAt(), now).dividedBy(this.forgets));
		return (int) Math.max(0, held.failed() - forgotten);
	}

	private Duration pause(int failed) {
		if (failed <= this.free) {
			return Duration.ZERO;
		}
		Duration doubled = this.first.multipliedBy(1L << Math.min(failed - this.free - 1, MOST_DOUBLINGS));
		return (doubled.compareTo(this.longest) < 0) ? doubled : this.longest;
	}

}
