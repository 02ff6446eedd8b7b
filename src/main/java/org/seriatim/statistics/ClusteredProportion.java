package org.seriatim.statistics;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A proportion of lesions or sessions nested in patients: Wilson limits at the effective
 * sample size.
 * <p>
 * With m patients, \(x_i\) events in \(n_i\), N and X the sums and p = X/N: \( v =
 * \frac{m}{m-1} \sum (x_i - n_i p)^2 / N^2 \), design effect \( d = v / (p(1-p)/N) \).
 * The interval uses max(1, d): a value below 1 is reported, but narrows nothing.
 * <ul>
 * <li>No events, or only events: d cannot be estimated; the number of patients is the
 * effective size, that is N/m is used; the limit on that side is exactly 0 or 1.</li>
 * <li>One patient: the proportion stands without variance and limits. None: nothing
 * stands.</li>
 * </ul>
 * <p>
 * Sources: Cochran 1977, Sampling Techniques, chapter 6; Rao, Scott 1992, Biometrics 48,
 * 577-585.
 *
 * @param patients number of patients
 * @param events in all
 * @param total number of lesions or sessions
 * @param proportion share with the event; empty without any observation
 * @param variance of the ratio estimate, v; empty with fewer than two patients
 * @param designEffect d; empty when it cannot be estimated
 * @param designEffectUsed the one that the limits use
 * @param limits at the effective sample size
 * @param confidence of the limits
 */
public record ClusteredProportion(int patients, long events, long total, OptionalDouble proportion,
		OptionalDouble variance, OptionalDouble designEffect, OptionalDouble designEffectUsed, Optional<Bounds> limits,
		double confidence) {

	/**
	 * @param patients one count for each patient, in any order
	 * @param confidence strictly between 0 and 1
	 */
	public static ClusteredProportion of(Collection<EventCount> patients, double confidence) {
		Tails.requireConfidence(confidence);
		List<EventCount> counts = List.copyOf(patients);
		int m = counts.size();
		long n = counts.stream().mapToLong(EventCount::n).sum();
		long x = counts.stream().mapToLong(EventCount::events).sum();
		if (m < 2) {
			return new ClusteredProportion(m, x, n,
					(m == 0) ? OptionalDouble.empty() : OptionalDouble.of((double) x / n), OptionalDouble.empty(),
					OptionalDouble.empty(), OptionalDouble.empty(), Optional.empty(), confidence);
		}
		double p = (double) x / n;
		double squares = counts.stream()
			.mapToDouble((count) -> deviation(count, x, n))
			.map((deviation) -> deviation * deviation)
			// sorted, so that the sum does not depend on the order of the patients
			.sorted()
			.sum();
		double variance = m / (m - 1.0) * squares / ((double) n * n);
		boolean extreme = x == 0 || x == n;
		OptionalDouble effect = extreme ? OptionalDouble.empty() : OptionalDouble.of(variance / (p * (1 - p) / n));
		double used = extreme ? (double) n / m : Math.max(1, effect.getAsDouble());
		double effectiveN = n / used;
		Bounds limits = ProportionInterval.wilson(p * effectiveN, effectiveN, confidence);
		return new ClusteredProportion(m, x, n, OptionalDouble.of(p), OptionalDouble.of(extreme ? 0 : variance), effect,
				OptionalDouble.of(used), Optional.of(limits), confidence);
	}

	/**
	 * x_i - n_i X/N from whole numbers, so that equal shares differ by exactly 0.
	 */
	private static double deviation(EventCount count, long x, long n) {
		return ((double) count.events() * n - (double) count.n() * x) / n;
	}

	/**
	 * Square root of the variance.
	 */
	public OptionalDouble standardError() {
		return this.variance.isPresent() ? OptionalDouble.of(Math.sqrt(this.variance.getAsDouble()))
				: OptionalDouble.empty();
	}

	/**
	 * Number of independent observations that would tell as much.
	 */
	public OptionalDouble effectiveSize() {
		return this.designEffectUsed.isPresent() ? OptionalDouble.of(this.total / this.designEffectUsed.getAsDouble())
				: OptionalDouble.empty();
	}

}
