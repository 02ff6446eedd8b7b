package org.seriatim.statistics;

import java.util.Arrays;

/**
 * Draws patients with replacement, always the same ones for the same seed and replicate,
 * whichever thread asks in whichever order.
 * <p>
 * The generator is SplitMix64 (Steele, Lea, Flood 2014, OOPSLA), written out here because
 * limits that are stored with their seed must come out the same on every Java version.
 */
final class PatientDraws {

	private static final long GOLDEN = 0x9E3779B97F4A7C15L;

	private long state;

	PatientDraws(long seed, int replicate) {
		this.state = mix(mix(seed) + GOLDEN * (replicate + 1L));
	}

	/**
	 * Sets how often each patient is drawn in as many draws as there are patients.
	 */
	void draw(int[] timesDrawn) {
		Arrays.fill(timesDrawn, 0);
		for (int i = 0; i < timesDrawn.length; i++) {
			timesDrawn[below(timesDrawn.length)]++;
		}
	}

	/**
	 * High 32 bits times the bound; the bias, bound / 2^32, is far below what any number
	 * of replicates can show.
	 */
	private int below(int bound) {
		this.state += GOLDEN;
		return (int) (((mix(this.state) >>> 32) * bound) >>> 32);
	}

	private static long mix(long value) {
		long z = value;
		z = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
		z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
		return z ^ (z >>> 31);
	}

}
