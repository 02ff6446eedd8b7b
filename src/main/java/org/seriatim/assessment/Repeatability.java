package org.seriatim.assessment;

import org.seriatim.statistics.Detectability;

/**
 * How large a change of a depth must be to exceed measurement error, or that there are
 * too few repeated ratings to judge any change.
 */
public sealed interface Repeatability {

	/** Who gave the two ratings of a pair; the two kinds are kept apart. */
	enum Raters {

		/** Two assessors. */
		BETWEEN,
		/** One assessor, the second time blinded. */
		WITHIN

	}

	/**
	 * The measurement error is known.
	 *
	 * @param raters the kind of pairs that it comes from
	 * @param error on the scale of logarithms
	 */
	record Known(Raters raters, Detectability.Known error) implements Repeatability {

		/** Smallest detectable change of one scar, on the scale of logarithms. */
		public double smallestDetectableChange() {
			return this.error.smallestChange();
		}

	}

	/**
	 * No change can be judged.
	 *
	 * @param ratings what there is
	 * @param pairsNeeded pairs that one kind needs
	 * @param patientsNeeded patients that they must come from
	 */
	record TooFew(RepeatedRatings ratings, int pairsNeeded, int patientsNeeded) implements Repeatability {
	}

}
