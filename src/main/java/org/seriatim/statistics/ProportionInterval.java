package org.seriatim.statistics;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A single proportion with its limits, for independent observations.
 * <ul>
 * <li>Wilson, without continuity correction: centre \( (p + z^2/2n)/(1 + z^2/n) \),
 * half-width \( z\sqrt{p(1-p)/n + z^2/4n^2}/(1 + z^2/n) \).</li>
 * <li>Clopper-Pearson: quantiles of the beta distribution, never less than the stated
 * confidence.</li>
 * <li>No events: the lower limit is exactly 0; only events: the upper one exactly 1.</li>
 * <li>n = 0: everything empty.</li>
 * </ul>
 * For lesions nested in patients use {@link ClusteredProportion}.
 * <p>
 * Sources: Wilson 1927, JASA 22, 209-212; Clopper, Pearson 1934, Biometrika 26, 404-413;
 * Newcombe 1998, Statistics in Medicine 17, 857-872.
 *
 * @param events number of observations with the event
 * @param n number of observations
 * @param estimate share with the event
 * @param wilson limits
 * @param clopperPearson limits
 * @param confidence of the limits
 */
public record ProportionInterval(int events, int n, OptionalDouble estimate, Optional<Bounds> wilson,
		Optional<Bounds> clopperPearson, double confidence) {

	/**
	 * @param events between 0 and n
	 * @param n at least 0
	 * @param confidence strictly between 0 and 1
	 */
	public static ProportionInterval of(int events, int n, double confidence) {
		if (!(n >= 0 && events >= 0 && events <= n)) {
			throw new IllegalArgumentException(
					"events must be between 0 and n, n at least 0, but they are " + events + " and " + n);
		}
		Tails.requireConfidence(confidence);
		if (n == 0) {
			return new ProportionInterval(0, 0, OptionalDouble.empty(), Optional.empty(), Optional.empty(), confidence);
		}
		return new ProportionInterval(events, n, OptionalDouble.of((double) events / n),
				Optional.of(wilson(events, n, confidence)), Optional.of(clopperPearson(events, n, confidence)),
				confidence);
	}

	/**
	 * Wilson limits; both numbers may be fractions, as effective counts are.
	 */
	static Bounds wilson(double events, double n, double confidence) {
		double z = Tails.normalHalfWidth(confidence);
		double p = events / n;
		double denominator = 1 + z * z / n;
		double centre = (p + z * z / (2 * n)) / denominator;
		double half = z * Math.sqrt(p * (1 - p) / n + z * z / (4 * n * n)) / denominator;
		double low = (events == 0) ? 0 : Math.max(0, centre - half);
		double high = (events == n) ? 1 : Math.min(1, centre + half);
		return new Bounds(low, high);
	}

	private static Bounds clopperPearson(int events, int n, double confidence) {
		double tail = (1 - confidence) / 2;
		double low = (events == 0) ? 0 : Tails.betaQuantile(tail, events, n - events + 1.0);
		double high = (events == n) ? 1 : Tails.betaUpperQuantile(tail, events + 1.0, n - events);
		return new Bounds(low, high);
	}

}
