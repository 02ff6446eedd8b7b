package org.seriatim.statistics;

/**
 * How a bootstrap is to be run. The same plan on the same data gives the same limits to
 * the last bit, so the plan belongs to the result.
 *
 * @param seed start of the generator
 * @param replicates number of resamples, at least 1
 * @param confidence of the limits, strictly between 0 and 1
 */
public record BootstrapPlan(long seed, int replicates, double confidence) {

	public static final int DEFAULT_REPLICATES = 1999;

	public BootstrapPlan {
		if (replicates < 1) {
			throw new IllegalArgumentException("replicates must be at least 1, but is " + replicates);
		}
		if (!(confidence > 0 && confidence < 1)) {
			throw new IllegalArgumentException("confidence must be strictly between 0 and 1, but is " + confidence);
		}
	}

	/**
	 * {@value #DEFAULT_REPLICATES} replicates and 95 percent limits.
	 */
	public static BootstrapPlan withSeed(long seed) {
		return new BootstrapPlan(seed, DEFAULT_REPLICATES, 0.95);
	}

}
