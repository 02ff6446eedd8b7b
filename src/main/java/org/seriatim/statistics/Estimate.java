package org.seriatim.statistics;

import java.util.Optional;

/**
 * A result, or the reason why there is none. A page must be able to say in words why a
 * figure is missing, so this is a type and never {@code NaN}, {@code null} or 0.
 *
 * @param <T> the result when there is one
 */
public sealed interface Estimate<T> {

	/**
	 * The result exists.
	 */
	record Known<T>(T value) implements Estimate<T> {
	}

	/**
	 * The data are valid, but the quantity does not exist or cannot be told from them.
	 *
	 * @param reason what is missing
	 * @param n how many observations (or clusters, where the reason speaks of them) there
	 * were
	 */
	record NotEstimable<T>(Reason reason, long n) implements Estimate<T> {
	}

	/**
	 * The iteration stopped at its limit without the certificate that it had arrived.
	 *
	 * @param criterion the value that the stopping criterion had reached
	 * @param iterations how many iterations were made
	 */
	record NotConverged<T>(double criterion, int iterations) implements Estimate<T> {
	}

	/**
	 * Why a quantity cannot be estimated from valid data.
	 */
	enum Reason {

		/** There is no observation at all. */
		NO_OBSERVATIONS,
		/** Fewer observations than the method needs. */
		TOO_FEW_OBSERVATIONS,
		/** Fewer patients than the method needs. */
		TOO_FEW_CLUSTERS,
		/** Fewer groups than a comparison needs. */
		TOO_FEW_GROUPS,
		/** No event among the observations: all are censored. */
		NO_EVENTS,
		/** The observations do not differ, so that there is nothing to measure. */
		NO_VARIATION,
		/** Covariates are constant or linear combinations of each other. */
		COLLINEAR,
		/** The likelihood grows without limit: the groups or values separate. */
		SEPARATION,
		/** Too many bootstrap replicates had no value, or too few were asked for. */
		TOO_FEW_REPLICATES

	}

	/**
	 * The result, if there is one.
	 */
	default Optional<T> known() {
		return (this instanceof Known<T> known) ? Optional.of(known.value()) : Optional.empty();
	}

	static <T> Estimate<T> of(T value) {
		return new Known<>(value);
	}

	static <T> Estimate<T> notEstimable(Reason reason, long n) {
		return new NotEstimable<>(reason, n);
	}

}
