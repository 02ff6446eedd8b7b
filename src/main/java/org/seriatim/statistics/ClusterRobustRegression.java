package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Means, and differences and slopes of means, of lesions nested in patients: least
 * squares with errors that are robust to any correlation within a patient.
 * <p>
 * With residuals e, bread \( B = (X'X)^{-1} \) and G patients: CR0 = \( B (\sum_g X_g'
 * e_g e_g' X_g) B \); CR1 = G/(G-1) CR0; CR1S = G/(G-1) (N-1)/(N-p) CR0; CR2 replaces
 * \(e_g\) by \( (I - X_g B X_g')^{-1/2} e_g \), which makes it unbiased when lesions of a
 * patient are in truth uncorrelated. CR2 with its Satterthwaite degrees of freedom is the
 * one to report: with few patients they are few, and the normal distribution would
 * promise too much.
 * <ul>
 * <li>No observations, or covariates that are constant or linearly dependent:
 * {@link Estimate.NotEstimable}. One patient: coefficients without errors.</li>
 * <li>A coefficient that single patients determine: an error of 0, without degrees of
 * freedom and p value.</li>
 * <li>The matrix root is taken on the p columns of X only, so that a patient with many
 * lesions costs no more than their number.</li>
 * </ul>
 * <p>
 * Sources: Liang, Zeger 1986, Biometrika 73, 13-22; Bell, McCaffrey 2002, Survey
 * Methodology 28, 169-181; Pustejovsky, Tipton 2018, Journal of Business and Economic
 * Statistics 36, 672-683.
 *
 * @param coefficients the intercept first; without covariates it is the mean
 * @param n number of observations
 * @param patients number of patients, G
 */
public record ClusterRobustRegression(List<Term> coefficients, int n, int patients) {

	/**
	 * Eigenvalues of \( I - X_g B X_g' \) below this count as 0 and contribute nothing.
	 */
	private static final double NO_REST = 1e-12;

	/**
	 * Below this share of its variance a coefficient has no rest to judge it by: single
	 * patients determine it.
	 */
	private static final double NO_TRACE = 1e-10;

	/**
	 * A coefficient with its errors, which are empty with fewer than two patients.
	 *
	 * @param name of the covariate, or {@value Coefficient#INTERCEPT}
	 * @param estimate least squares
	 * @param errorCr0 without correction
	 * @param errorCr1 corrected by G/(G-1)
	 * @param errorCr1s corrected by G/(G-1) (N-1)/(N-p)
	 * @param standardError CR2
	 * @param degreesOfFreedom Satterthwaite's, of CR2
	 * @param pValue two-sided, of the t test with CR2
	 */
	public record Term(String name, double estimate, OptionalDouble errorCr0, OptionalDouble errorCr1,
			OptionalDouble errorCr1s, OptionalDouble standardError, OptionalDouble degreesOfFreedom,
			OptionalDouble pValue) {

		/**
		 * Limits from the t distribution with CR2 and its degrees of freedom.
		 */
		public Optional<Bounds> limits(double confidence) {
			Tails.requireConfidence(confidence);
			if (this.standardError.isEmpty() || this.degreesOfFreedom.isEmpty()) {
				return Optional.empty();
			}
			double half = Tails.studentHalfWidth(confidence, this.degreesOfFreedom.getAsDouble())
					* this.standardError.getAsDouble();
			return Optional.of(new Bounds(this.estimate - half, this.estimate + half));
		}

	}

	/**
	 * The mean over lesions.
	 * @param values finite
	 */
	public static Estimate<ClusterRobustRegression> mean(List<Clustered<Double>> values) {
		return of(values, Covariates.none(values.size()));
	}

	/**
	 * @param values finite
	 * @param covariates one row for each value
	 */
	public static Estimate<ClusterRobustRegression> of(List<Clustered<Double>> values, Covariates covariates) {
		covariates.requireRows(values.size());
		int n = values.size();
		for (Clustered<Double> value : values) {
			Measured.require("values", value.value());
		}
		if (n == 0) {
			return Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0);
		}
		int p = covariates.names().size() + 1;
		if (n < p) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_OBSERVATIONS, n);
		}
		Optional<Covariates.Design> standardised = covariates.standardise();
		if (standardised.isEmpty()) {
			return Estimate.notEstimable(Estimate.Reason.COLLINEAR, n);
		}
		Covariates.Design design = standardised.get();
		// centring keeps the digits of a mean far from 0
		double centre = values.stream().mapToDouble(Clustered<Double>::value).average().orElseThrow();
		double[] y = values.stream().mapToDouble((value) -> value.value() - centre).toArray();
		double[] moments = new double[p];
		for (int i = 0; i < n; i++) {
			for (int j = 0; j < p; j++) {
				moments[j] += design.row(i)[j] * y[i];
			}
		}
		double[] beta = SymmetricMatrix.solve(design.factor(), moments);
		double[] estimates = SymmetricMatrix.times(design.back(), beta);
		estimates[0] += centre;
		List<Patient> patients = patients(values, design, y, beta);
		List<Term> terms = new ArrayList<>();
		if (patients.size() < 2) {
			OptionalDouble none = OptionalDouble.empty();
			for (int j = 0; j < p; j++) {
				terms.add(new Term(covariates.coefficientNames().get(j), estimates[j], none, none, none, none, none,
						none));
			}
		}
		else {
			Errors errors = new Errors(patients, design, n);
			for (int j = 0; j < p; j++) {
				terms.add(errors.term(covariates.coefficientNames().get(j), estimates[j], design.back()[j]));
			}
		}
		return Estimate.of(new ClusterRobustRegression(List.copyOf(terms), n, patients.size()));
	}

	/**
	 * Sums over one patient: X'X and X'e.
	 */
	private record Patient(double[][] products, double[] score) {
	}

	private static List<Patient> patients(List<Clustered<Double>> values, Covariates.Design design, double[] y,
			double[] beta) {
		int p = design.columns();
		Map<String, Patient> patients = new LinkedHashMap<>();
		for (int i = 0; i < y.length; i++) {
			Patient patient = patients.computeIfAbsent(values.get(i).patient(),
					(key) -> new Patient(new double[p][p], new double[p]));
			double[] x = design.row(i);
			double residual = y[i] - SymmetricMatrix.dot(x, beta);
			for (int r = 0; r < p; r++) {
				patient.score()[r] += x[r] * residual;
				for (int c = 0; c < p; c++) {
					patient.products()[r][c] += x[r] * x[c];
				}
			}
		}
		return new ArrayList<>(patients.values());
	}

	private static final class Errors {

		private final double[][] bread;

		private final List<Patient> patients;

		/** For each patient the p by p matrix K with A X = X K. */
		private final List<double[][]> adjustments = new ArrayList<>();

		private final int n;

		Errors(List<Patient> patients, Covariates.Design design, int n) {
			this.patients = patients;
			this.n = n;
			this.bread = SymmetricMatrix.inverse(design.factor());
			double[][] root = SymmetricMatrix.cholesky(this.bread).orElseThrow();
			for (Patient patient : patients) {
				this.adjustments.add(adjustment(patient.products(), root));
			}
		}

		/**
		 * With L L' = B and L' X'X L = V diag(lambda) V' the hat matrix of the patient
		 * has the eigenvalues lambda, so K = I + L V diag(((1-lambda)^-1/2 - 1)/lambda)
		 * V' L' X'X.
		 */
		private static double[][] adjustment(double[][] products, double[][] root) {
			int p = root.length;
			double[][] middle = new double[p][p];
			for (int c = 0; c < p; c++) {
				double[] image = SymmetricMatrix.times(products, column(root, c));
				for (int r = 0; r < p; r++) {
					for (int k = r; k < p; k++) {
						middle[r][c] += root[k][r] * image[k];
					}
				}
			}
			double[][] vectors = new double[p][p];
			double[] lambda = SymmetricMatrix.eigenvalues(middle, vectors);
			double[][] adjustment = new double[p][p];
			for (int e = 0; e < p; e++) {
				double[] direction = SymmetricMatrix.times(root, column(vectors, e));
				double[] image = SymmetricMatrix.times(products, direction);
				double rest = 1 - lambda[e];
				double factor;
				if (rest < NO_REST) {
					factor = -1 / lambda[e];
				}
				else {
					// ((1-l)^-1/2 - 1)/l without cancellation near 0
					double power = Math.sqrt(rest);
					factor = 1 / (power * (1 + power));
				}
				for (int r = 0; r < p; r++) {
					for (int c = 0; c < p; c++) {
						adjustment[r][c] += factor * direction[r] * image[c];
					}
				}
			}
			for (int r = 0; r < p; r++) {
				adjustment[r][r] += 1;
			}
			return adjustment;
		}

		private static double[] column(double[][] matrix, int c) {
			double[] column = new double[matrix.length];
			for (int r = 0; r < column.length; r++) {
				column[r] = matrix[r][c];
			}
			return column;
		}

		Term term(String name, double estimate, double[] contrast) {
			double[] direction = SymmetricMatrix.times(this.bread, contrast);
			int p = direction.length;
			double g = this.patients.size();
			double cr0 = 0;
			double cr2 = 0;
			double trace = 0;
			double squares = 0;
			double[][] sum = new double[p][p];
			for (int i = 0; i < this.patients.size(); i++) {
				Patient patient = this.patients.get(i);
				double[] adjusted = SymmetricMatrix.times(this.adjustments.get(i), direction);
				double plain = SymmetricMatrix.dot(direction, patient.score());
				double corrected = SymmetricMatrix.dot(adjusted, patient.score());
				cr0 += plain * plain;
				cr2 += corrected * corrected;
				double[] r = SymmetricMatrix.times(patient.products(), adjusted);
				double d = SymmetricMatrix.dot(adjusted, r);
				double h = SymmetricMatrix.form(r, this.bread, r);
				trace += d - h;
				squares += d * d - 2 * d * h;
				for (int a = 0; a < p; a++) {
					for (int b = 0; b < p; b++) {
						sum[a][b] += r[a] * r[b];
					}
				}
			}
			double[][] product = new double[p][];
			for (int a = 0; a < p; a++) {
				product[a] = SymmetricMatrix.times(sum, this.bread[a]);
			}
			for (int a = 0; a < p; a++) {
				for (int b = 0; b < p; b++) {
					squares += product[a][b] * product[b][a];
				}
			}
			double rows = this.n;
			// without any rest there is no degree of freedom to speak of
			boolean rest = trace > NO_TRACE * SymmetricMatrix.dot(contrast, direction);
			double error = rest ? Math.sqrt(cr2) : 0;
			OptionalDouble degrees = (rest && squares > 0) ? OptionalDouble.of(trace * trace / squares)
					: OptionalDouble.empty();
			OptionalDouble pValue = (degrees.isEmpty() || !(error > 0)) ? OptionalDouble.empty()
					: OptionalDouble.of(Tails.studentTwoSided(estimate / error, degrees.getAsDouble()));
			OptionalDouble cr1s = (this.n > p)
					? OptionalDouble.of(Math.sqrt(cr0 * g / (g - 1) * (rows - 1) / (rows - p)))
					: OptionalDouble.empty();
			return new Term(name, estimate, OptionalDouble.of(Math.sqrt(cr0)),
					OptionalDouble.of(Math.sqrt(cr0 * g / (g - 1))), cr1s, OptionalDouble.of(error), degrees, pValue);
		}

	}

}
