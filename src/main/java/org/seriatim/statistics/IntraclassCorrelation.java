package org.seriatim.statistics;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Reliability of one rating when subjects and raters are both a sample: ICC(2,1), two-way
 * random effects, absolute agreement; with measurement error and smallest detectable
 * change.
 * <p>
 * From the mean squares of subjects, raters and residual of n subjects by k raters: \(
 * ICC = (MSR - MSE)/(MSR + (k-1)MSE + k(MSC-MSE)/n) \), not cut off at 0. Standard error
 * of measurement \( \sqrt{\max(0, (MSC-MSE)/n) + MSE} \) for agreement, \( \sqrt{MSE} \)
 * for consistency; SDC = 1.96 \(\sqrt 2\) SEM.
 * <ul>
 * <li>Fewer than two subjects or raters: {@link Estimate.NotEstimable}.</li>
 * <li>All ratings equal: no ICC. No residual variation: ICC without limits.</li>
 * </ul>
 * <p>
 * Sources: Shrout, Fleiss 1979, Psychological Bulletin 86, 420-428; McGraw, Wong 1996,
 * Psychological Methods 1, 30-46; de Vet et al. 2006, Journal of Clinical Epidemiology
 * 59, 1033-1039.
 *
 * @param subjects n
 * @param raters k
 * @param meanSquareSubjects MSR
 * @param meanSquareRaters MSC
 * @param meanSquareError MSE
 * @param icc at most 1
 * @param limits of the ICC
 * @param degreesOfFreedom Satterthwaite's, in the limits
 */
public record IntraclassCorrelation(int subjects, int raters, double meanSquareSubjects, double meanSquareRaters,
		double meanSquareError, OptionalDouble icc, Optional<Bounds> limits, OptionalDouble degreesOfFreedom) {

	/**
	 * @param ratings one row for each subject, one column for each rater, complete and
	 * finite
	 * @param confidence strictly between 0 and 1
	 */
	public static Estimate<IntraclassCorrelation> of(double[][] ratings, double confidence) {
		Tails.requireConfidence(confidence);
		int n = ratings.length;
		int k = (n == 0) ? 0 : ratings[0].length;
		for (double[] subject : ratings) {
			if (subject.length != k) {
				throw new IllegalArgumentException(
						"every subject must have " + k + " ratings, but one has " + subject.length);
			}
			Measured.require("ratings", subject);
		}
		if (n < 2 || k < 2) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_OBSERVATIONS, Math.min(n, k));
		}
		// differences to one of them keep the digits of ratings far from 0
		double origin = ratings[0][0];
		double[][] shifted = new double[n][k];
		double[] byRater = new double[k];
		double[] bySubject = new double[n];
		double mean = 0;
		for (int i = 0; i < n; i++) {
			for (int j = 0; j < k; j++) {
				shifted[i][j] = ratings[i][j] - origin;
				byRater[j] += shifted[i][j] / n;
				bySubject[i] += shifted[i][j] / k;
			}
			mean += bySubject[i] / n;
		}
		double subjects = 0;
		double raters = 0;
		double error = 0;
		double total = 0;
		for (int i = 0; i < n; i++) {
			subjects += k * (bySubject[i] - mean) * (bySubject[i] - mean);
			for (int j = 0; j < k; j++) {
				double residual = shifted[i][j] - bySubject[i] - byRater[j] + mean;
				error += residual * residual;
				total += (shifted[i][j] - mean) * (shifted[i][j] - mean);
			}
		}
		for (int j = 0; j < k; j++) {
			raters += n * (byRater[j] - mean) * (byRater[j] - mean);
		}
		// sums of squares this far below the size of the ratings are rounding
		double rounding = 1e-28 * (total + (double) n * k * (mean + origin) * (mean + origin));
		return Estimate.of(of(n, k, flush(subjects, rounding) / (n - 1), flush(raters, rounding) / (k - 1),
				flush(error, rounding) / ((n - 1.0) * (k - 1)), confidence));
	}

	private static double flush(double squares, double rounding) {
		return (squares <= rounding) ? 0 : squares;
	}

	private static IntraclassCorrelation of(int n, int k, double msr, double msc, double mse, double confidence) {
		double denominator = msr + (k - 1) * mse + k * (msc - mse) / n;
		if (!(denominator > 0)) {
			return new IntraclassCorrelation(n, k, msr, msc, mse, OptionalDouble.empty(), Optional.empty(),
					OptionalDouble.empty());
		}
		double icc = (msr - mse) / denominator;
		if (mse == 0) {
			return new IntraclassCorrelation(n, k, msr, msc, mse, OptionalDouble.of(icc), Optional.empty(),
					OptionalDouble.empty());
		}
		double f = msc / mse;
		double between = n * (1 + (k - 1) * icc) - k * icc;
		double numerator = (k - 1.0) * (n - 1) * (k * icc * f + between) * (k * icc * f + between);
		double v = numerator / ((n - 1.0) * k * k * icc * icc * f * f + between * between);
		Optional<Bounds> limits = Optional.empty();
		if (v > 0 && Double.isFinite(v)) {
			double p = 1 - (1 - confidence) / 2;
			// divided through by the upper quantile, which is beyond all numbers when v
			// is small
			double upper = 1 / Tails.fQuantile(p, n - 1, v);
			double lower = Tails.fQuantile(p, v, n - 1);
			double rest = k * msc + ((double) k * n - k - n) * mse;
			double low = n * (upper * msr - mse) / (rest + n * upper * msr);
			double high = n * (lower * msr - mse) / (rest + n * lower * msr);
			if (Double.isFinite(low) && low <= high) {
				limits = Optional.of(new Bounds(low, high));
			}
		}
		return new IntraclassCorrelation(n, k, msr, msc, mse, OptionalDouble.of(icc), limits,
				Double.isFinite(v) ? OptionalDouble.of(v) : OptionalDouble.empty());
	}

	/**
	 * Variance between subjects; may be negative.
	 */
	public double varianceSubjects() {
		return (this.meanSquareSubjects - this.meanSquareError) / this.raters;
	}

	/**
	 * Variance between raters; may be negative.
	 */
	public double varianceRaters() {
		return (this.meanSquareRaters - this.meanSquareError) / this.subjects;
	}

	/**
	 * Standard error of one measurement, in the unit of the ratings, differences between
	 * raters included.
	 */
	public double standardErrorAgreement() {
		return Math.sqrt(Math.max(0, varianceRaters()) + this.meanSquareError);
	}

	/**
	 * Standard error of one measurement, constant differences between raters left out.
	 */
	public double standardErrorConsistency() {
		return Math.sqrt(this.meanSquareError);
	}

	/**
	 * Smallest detectable change between two raters.
	 */
	public double smallestChangeAgreement() {
		return SmallestDetectableChange.FACTOR * standardErrorAgreement();
	}

	/**
	 * Smallest detectable change within one rater.
	 */
	public double smallestChangeConsistency() {
		return SmallestDetectableChange.FACTOR * standardErrorConsistency();
	}

}
