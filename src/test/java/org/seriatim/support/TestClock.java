package org.seriatim.support;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;

/**
 * The clock of all tests. It stands at {@link #START} until a test moves it, and goes
 * back there after that test.
 */
public final class TestClock extends Clock {

	/** The day of the expected advice in the sample clinic, at ten in Central Europe. */
	public static final Instant START = Instant.parse("2026-11-20T09:00:00Z");

	private volatile Instant now = START;

	TestClock() {
	}

	public void setTo(Instant now) {
		this.now = now;
	}

	public void advance(Duration by) {
		this.now = this.now.plus(by);
	}

	void reset() {
		this.now = START;
	}

	@Override
	public Instant instant() {
		return this.now;
	}

	@Override
	public ZoneId getZone() {
		return ZoneOffset.UTC;
	}

	@Override
	public Clock withZone(ZoneId zone) {
		return new Clock() {

			@Override
			public ZoneId getZone() {
				return zone;
			}

			@Override
			public Clock withZone(ZoneId other) {
				return TestClock.this.withZone(other);
			}

			@Override
			public Instant instant() {
				return TestClock.this.instant();
			}

		};
	}

}
