package org.seriatim.outcome;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.ScarType;

/**
 * What one session more brought to scars of one type in this clinic: how much less deep
 * they were after it than before it.
 *
 * @param session number of the session within its series, from 1
 * @param patients whose scars were measured before and after it
 * @param scars of these, with a depth above 0 at both ends by one method
 * @param resolved scars of which nothing was left after it; beside the figures, not in
 * them
 * @param change none where there are too few patients, or the records do not say
 */
public record ExpectedGain(ScarType type, int session, int patients, int scars, int resolved, @Nullable Change change) {

	/** So many patients the change of a session needs. */
	public static final int FEWEST_PATIENTS = 5;

	/**
	 * Improvement of the geometric mean of the depths, in percent of the depth before the
	 * session; negative where scars became deeper.
	 *
	 * @param low lower 95 % limit
	 * @param high upper 95 % limit
	 */
	public record Change(double percent, double low, double high, Method method) {
	}

	/** How the change was estimated. */
	public enum Method {

		/** Linear mixed model with an intercept of each patient. */
		MIXED_MODEL,
		/**
		 * Means with patient-clustered errors, where the mixed model finds no variance
		 * between patients or has nothing to find it by.
		 */
		CLUSTERED_MEAN

	}

}
