package org.seriatim.statistics;

import java.util.OptionalDouble;

/**
 * Agreement of two raters on an ordered or unordered scale, beyond what their habits
 * alone would give.
 * <p>
 * With P the table of shares, r and c its margins and w agreement weights (1 on the
 * diagonal): \( p_o = \sum w_{ij} P_{ij} \), \( p_e = \sum w_{ij} r_i c_j \), \( \kappa =
 * (p_o - p_e)/(1 - p_e) \). The limits use the large-sample standard error, within -1 and
 * 1; the test of no agreement beyond chance uses its own.
 * <ul>
 * <li>No ratings, or both raters used one and the same category only: empty.</li>
 * <li>A category that nobody used still counts in the weights.</li>
 * </ul>
 * <p>
 * Sources: Cohen 1968, Psychological Bulletin 70, 213-220; Fleiss, Cohen, Everitt 1969,
 * Psychological Bulletin 72, 323-327.
 *
 * @param n number of rated subjects
 * @param observedAgreement \(p_o\)
 * @param expectedAgreement \(p_e\)
 * @param kappa agreement beyond chance, at most 1
 * @param standardError for limits
 * @param standardErrorNull under no agreement beyond chance, for the test
 * @param z kappa over {@code standardErrorNull}
 * @param low lower limit
 * @param high upper limit
 */
public record WeightedKappa(long n, OptionalDouble observedAgreement, OptionalDouble expectedAgreement,
		OptionalDouble kappa, OptionalDouble standardError, OptionalDouble standardErrorNull, OptionalDouble z,
		OptionalDouble low, OptionalDouble high) {

	/**
	 * A variance below this share of what it is a difference of is rounding.
	 */
	private static final double ROUNDING = 1e-26;

	/**
	 * Usual agreement weights.
	 */
	public enum Weights {

		/** Only full agreement counts. */
		IDENTITY,
		/** One minus the distance over the largest distance. */
		LINEAR,
		/** One minus the square of that. */
		QUADRATIC;

		/**
		 * The weights for a number of categories.
		 */
		public double[][] of(int categories) {
			double[][] weights = new double[categories][categories];
			for (int i = 0; i < categories; i++) {
				for (int j = 0; j < categories; j++) {
					double distance = (i == j) ? 0 : Math.abs(i - j) / (categories - 1.0);
					weights[i][j] = switch (this) {
						case IDENTITY -> (i == j) ? 1 : 0;
						case LINEAR -> 1 - distance;
						case QUADRATIC -> 1 - distance * distance;
					};
				}
			}
			return weights;
		}

	}

	public static WeightedKappa of(int[][] table, Weights weights, double confidence) {
		return of(table, weights.of(table.length), confidence);
	}

	/**
	 * @param table counts, square; rows are the first rater's categories, columns the
	 * second's
	 * @param weights finite, of the size of the table, 1 on the diagonal
	 * @param confidence strictly between 0 and 1
	 */
	public static WeightedKappa of(int[][] table, double[][] weights, double confidence) {
		double half = Tails.normalHalfWidth(confidence);
		long n = requireTable(table, weights);
		OptionalDouble none = OptionalDouble.empty();
		if (n == 0) {
			return new WeightedKappa(0, none, none, none, none, none, none, none, none);
		}
		int k = table.length;
		double[] r = new double[k];
		double[] c = new double[k];
		for (int i = 0; i < k; i++) {
			for (int j = 0; j < k; j++) {
				r[i] += (double) table[i][j] / n;
				c[j] += (double) table[i][j] / n;
			}
		}
		double observed = 0;
		double expected = 0;
		double[] rowMean = new double[k];
		double[] columnMean = new double[k];
		for (int i = 0; i < k; i++) {
			for (int j = 0; j < k; j++) {
				observed += weights[i][j] * table[i][j] / n;
				expected += weights[i][j] * r[i] * c[j];
				rowMean[i] += weights[i][j] * c[j];
				columnMean[j] += weights[i][j] * r[i];
			}
		}
		if (!(1 - expected > 1e-12)) {
			return new WeightedKappa(n, OptionalDouble.of(observed), OptionalDouble.of(expected), none, none, none,
					none, none, none);
		}
		double shift = observed * expected - 2 * expected + observed;
		double scale = 1 - expected;
		double alternative = 0;
		double independent = 0;
		double size = 0;
		for (int i = 0; i < k; i++) {
			for (int j = 0; j < k; j++) {
				double means = rowMean[i] + columnMean[j];
				// shift and -expected are the means, so that both sums are variances of 0
				// or more
				double a = weights[i][j] * scale - means * (1 - observed) - shift;
				double b = weights[i][j] - means + expected;
				alternative += a * a * table[i][j] / n;
				independent += r[i] * c[j] * b * b;
				size = Math.max(size, weights[i][j] * weights[i][j] + means * means);
			}
		}
		double error = (alternative > ROUNDING * size) ? Math.sqrt(alternative / n) / (scale * scale) : 0;
		double errorNull = (independent > ROUNDING * size) ? Math.sqrt(independent / n) / scale : 0;
		double kappa = (observed - expected) / scale;
		return new WeightedKappa(n, OptionalDouble.of(observed), OptionalDouble.of(expected), OptionalDouble.of(kappa),
				OptionalDouble.of(error), OptionalDouble.of(errorNull),
				(errorNull > 0) ? OptionalDouble.of(kappa / errorNull) : none,
				OptionalDouble.of(Math.max(-1, kappa - half * error)),
				OptionalDouble.of(Math.min(1, kappa + half * error)));
	}

	private static long requireTable(int[][] table, double[][] weights) {
		if (weights.length != table.length) {
			throw new IllegalArgumentException("weights must be of the size of the table, " + table.length
					+ ", but have " + weights.length + " rows");
		}
		long n = 0;
		for (int i = 0; i < table.length; i++) {
			if (table[i].length != table.length || weights[i].length != table.length) {
				throw new IllegalArgumentException("table and weights must be square, but row " + i + " is not");
			}
			for (int j = 0; j < table.length; j++) {
				if (table[i][j] < 0) {
					throw new IllegalArgumentException("counts must be at least 0, but one is " + table[i][j]);
				}
				if (!Double.isFinite(weights[i][j])) {
					throw new IllegalArgumentException("weights must be finite, but one is " + weights[i][j]);
				}
				n += table[i][j];
			}
			if (weights[i][i] != 1) {
				throw new IllegalArgumentException("weights of full agreement must be 1, but one is " + weights[i][i]);
			}
		}
		return n;
	}

}
