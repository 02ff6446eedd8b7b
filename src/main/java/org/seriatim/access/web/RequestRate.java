package org.seriatim.access.web;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.LongSupplier;

/**
 * How often each of many callers may ask: a bucket that holds a minute's worth of
 * requests and is filled evenly. What it forgets is the caller who has been quiet the
 * longest, so that its size stays bounded whoever calls.
 */
final class RequestRate {

	private static final int MOST_CALLERS = 20_000;

	/** What a request costs, where each nanosecond earns the requests of a minute. */
	private static final long COST = Duration.ofMinutes(1).toNanos();

	private final int perMinute;

	private final LongSupplier nanos;

	private final Map<String, Bucket> buckets = new LinkedHashMap<>(64, 0.75f, true) {

		@Override
		protected boolean removeEldestEntry(Map.Entry<String, Bucket> eldest) {
			return size() > MOST_CALLERS;
		}

	};

	/**
	 * A rate of so many requests a minute.
	 * @param nanos a clock that only moves forward, in nanoseconds
	 */
	RequestRate(int perMinute, LongSupplier nanos) {
		if (perMinute < 1) {
			throw new IllegalArgumentException("perMinute must be at least 1, was " + perMinute);
		}
		this.perMinute = perMinute;
		this.nanos = nanos;
	}

	/**
	 * Counts a request.
	 * @return how long the caller must wait before it is answered, zero if it is at once
	 */
	synchronized Duration ask(String caller) {
		var now = this.nanos.getAsLong();
		var bucket = this.buckets.computeIfAbsent(caller, (key) -> new Bucket(full(), now));
		// a longer silence earns no more, and the product stays a long
		var elapsed = Math.min(now - bucket.filled, COST);
		bucket.left = Math.min(full(), bucket.left + elapsed * this.perMinute);
		bucket.filled = now;
		if (bucket.left >= COST) {
			bucket.left -= COST;
			return Duration.ZERO;
		}
		return Duration.ofNanos(-Math.floorDiv(bucket.left - COST, this.perMinute));
	}

	private long full() {
		return COST * this.perMinute;
	}

	private static final class Bucket {

		private long left;

		private long filled;

		Bucket(long left, long filled) {
			this.left = left;
			this.filled = filled;
		}

	}

}
