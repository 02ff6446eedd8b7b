package org.seriatim.statistics;

/**
 * The smallest change that exceeds measurement error, or what is missing to tell it.
 */
public sealed interface Detectability {

	/**
	 * Measurement error on the scale of natural logarithms.
	 *
	 * @param standardError standard error of measurement, SEM
	 * @param smallestChange smallest detectable change, SDC; a change of this size or
	 * more exceeds measurement error
	 * @param pairs number of pairs that it rests on
	 * @param patients number of patients that they come from
	 */
	record Known(double standardError, double smallestChange, int pairs, int patients) implements Detectability {

		/**
		 * Whether a change from one value to another, both above 0, exceeds measurement
		 * error: \( |\ln(\mathrm{to}/\mathrm{from})| \ge SDC \).
		 */
		public boolean isExceededBy(double from, double to) {
			RatingPair change = new RatingPair("", from, to);
			return Math.abs(Math.log(change.second()) - Math.log(change.first())) >= this.smallestChange;
		}

	}

	/**
	 * Too few repeated ratings to judge any change.
	 *
	 * @param pairs number of pairs on record
	 * @param patients number of patients that they come from
	 * @param pairsNeeded least number of pairs
	 * @param patientsNeeded least number of patients
	 */
	record TooFew(int pairs, int patients, int pairsNeeded, int patientsNeeded) implements Detectability {
	}

}
