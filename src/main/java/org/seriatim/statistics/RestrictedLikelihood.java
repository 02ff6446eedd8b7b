package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;

/**
 * REML criterion of random intercepts of patients and of scars within patients.
 * <p>
 * With \(\lambda_s, \lambda_p\) the intercept variances over the residual one and
 * \(n_{ij}\) the size of scar j of patient i, let \( m_{ij} = n_{ij}/(1 + \lambda_s
 * n_{ij}) \), \( H_i = \sum_j m_{ij} \), \(\bar u_{ij}\) the mean of a column over a scar
 * and \( \tilde u_i = \sum_j m_{ij} \bar u_{ij} / H_i \): \( \langle u, v\rangle =
 * u'V^{-1}v = \sum (u - \bar u_{ij})(v - \bar v_{ij}) + \sum_{ij} m_{ij} (\bar u_{ij} -
 * \tilde u_i)(\bar v_{ij} - \tilde v_i) + \sum_i \frac{H_i}{1 + \lambda_p H_i} \tilde u_i
 * \tilde v_i \) and \( \ln\det V = \sum_{ij} \ln(1 + \lambda_s n_{ij}) + \sum_i \ln(1 +
 * \lambda_p H_i) \). The first sum is free of the ratios, so one evaluation costs the
 * number of scars, not of measurements; nothing is subtracted, so large ratios cost no
 * digits.
 */
final class RestrictedLikelihood {

	static final int MAX_ITERATIONS = 500;

	/**
	 * Smallest ratio of standard deviations that is looked at besides 0.
	 */
	private static final double LEAST_RATIO = 1e-3;

	private static final double USUAL_RATIO = 1e3;

	/**
	 * Beyond this ratio the residuals count as 0.
	 */
	private static final double LARGEST_RATIO = 1e8;

	/**
	 * From one ratio that is looked at to the next.
	 */
	private static final double GRID = 1.26;

	/**
	 * Products of the deviations from the means of the scars: of the columns of the
	 * design and, last, of what least squares leave of the response.
	 */
	private final double[][] within;

	private final List<double[][]> scarMeans = new ArrayList<>();

	private final List<int[]> scarSizes = new ArrayList<>();

	private final Covariates.Design design;

	/** Least squares on the standardised design, and the mean of the response. */
	private final double[] leastSquares;

	private final double centre;

	/** Sum of squares that least squares leave, and the one that they start from. */
	private final double residuals;

	private final double all;

	private final int n;

	private final int p;

	RestrictedLikelihood(double[] values, Covariates.Design design, Collection<Map<String, List<Integer>>> patients) {
		this.design = design;
		this.n = values.length;
		this.p = design.columns();
		double mean = 0;
		for (double value : values) {
			mean += value / this.n;
		}
		this.centre = mean;
		double[] moments = new double[this.p];
		double squares = 0;
		for (int i = 0; i < this.n; i++) {
			double y = values[i] - mean;
			squares += y * y;
			for (int j = 0; j < this.p; j++) {
				moments[j] += design.row(i)[j] * y;
			}
		}
		this.all = Math.max(squares, mean * mean);
		this.leastSquares = SymmetricMatrix.solve(design.factor(), moments);
		double left = 0;
		double[][] columns = new double[this.n][this.p + 1];
		for (int i = 0; i < this.n; i++) {
			System.arraycopy(design.row(i), 0, columns[i], 0, this.p);
			columns[i][this.p] = values[i] - mean - SymmetricMatrix.dot(design.row(i), this.leastSquares);
			left += columns[i][this.p] * columns[i][this.p];
		}
		this.residuals = left;
		this.within = new double[this.p + 1][this.p + 1];
		for (Map<String, List<Integer>> scars : patients) {
			double[][] means = new double[scars.size()][];
			int[] sizes = new int[scars.size()];
			int j = 0;
			for (List<Integer> rows : scars.values()) {
				sizes[j] = rows.size();
				means[j] = addScar(columns, rows);
				j++;
			}
			this.scarMeans.add(means);
			this.scarSizes.add(sizes);
		}
	}

	private double[] addScar(double[][] columns, List<Integer> rows) {
		double[] means = new double[this.p + 1];
		for (int row : rows) {
			for (int c = 0; c <= this.p; c++) {
				means[c] += columns[row][c] / rows.size();
			}
		}
		for (int row : rows) {
			for (int r = 0; r <= this.p; r++) {
				for (int c = 0; c <= this.p; c++) {
					this.within[r][c] += (columns[row][r] - means[r]) * (columns[row][c] - means[c]);
				}
			}
		}
		return means;
	}

	/**
	 * The fit at given ratios.
	 *
	 * @param criterion REML criterion
	 * @param estimates coefficients in the units of the covariates
	 * @param errors their standard errors
	 * @param residual residual variance
	 */
	record Fit(double criterion, double[] estimates, double[] errors, double residual) {
	}

	private double[][] weighted(double lambdaScar, double lambdaPatient) {
		double[][] inner = new double[this.p + 1][];
		for (int r = 0; r <= this.p; r++) {
			inner[r] = this.within[r].clone();
		}
		for (int i = 0; i < this.scarMeans.size(); i++) {
			double[][] means = this.scarMeans.get(i);
			int[] sizes = this.scarSizes.get(i);
			double[] total = new double[this.p + 1];
			double h = 0;
			for (int j = 0; j < sizes.length; j++) {
				double m = sizes[j] / (1 + lambdaScar * sizes[j]);
				h += m;
				for (int c = 0; c <= this.p; c++) {
					total[c] += m * means[j][c];
				}
			}
			for (int c = 0; c <= this.p; c++) {
				total[c] /= h;
			}
			for (int j = 0; j < sizes.length && sizes.length > 1; j++) {
				double m = sizes[j] / (1 + lambdaScar * sizes[j]);
				addProducts(inner, m, means[j], total);
			}
			addProducts(inner, h / (1 + lambdaPatient * h), total, new double[this.p + 1]);
		}
		return inner;
	}

	private void addProducts(double[][] inner, double weight, double[] values, double[] origin) {
		for (int r = 0; r <= this.p; r++) {
			double deviation = weight * (values[r] - origin[r]);
			for (int c = 0; c <= this.p; c++) {
				inner[r][c] += deviation * (values[c] - origin[c]);
			}
		}
	}

	private double logDeterminant(double lambdaScar, double lambdaPatient) {
		double sum = 0;
		for (int[] sizes : this.scarSizes) {
			double h = 0;
			for (int size : sizes) {
				sum += Math.log1p(lambdaScar * size);
				h += size / (1 + lambdaScar * size);
			}
			sum += Math.log1p(lambdaPatient * h);
		}
		return sum;
	}

	/**
	 * Cholesky factor of X'V^-1X, the coefficients of what least squares leave, and the
	 * weighted residual sum of squares.
	 */
	private record Solution(double[][] factor, double[] beta, double squares) {
	}

	/**
	 * Empty where a ratio is so large that the matrix is singular.
	 */
	private Optional<Solution> solve(double lambdaScar, double lambdaPatient) {
		double[][] inner = weighted(lambdaScar, lambdaPatient);
		double[][] a = new double[this.p][this.p];
		double[] b = new double[this.p];
		for (int r = 0; r < this.p; r++) {
			System.arraycopy(inner[r], 0, a[r], 0, this.p);
			b[r] = inner[r][this.p];
		}
		return SymmetricMatrix.cholesky(a).map((factor) -> {
			double[] beta = SymmetricMatrix.solve(factor, b);
			return new Solution(factor, beta, inner[this.p][this.p] - SymmetricMatrix.dot(beta, b));
		});
	}

	/**
	 * Whether anything is left to explain.
	 */
	boolean hasResiduals() {
		return this.residuals > 1e-24 * this.n * this.all;
	}

	/**
	 * Empty where the residuals are as good as 0.
	 */
	Optional<Fit> at(double lambdaScar, double lambdaPatient) {
		return solve(lambdaScar, lambdaPatient).filter((solution) -> !isPerfect(solution))
			.map((solution) -> describe(solution, lambdaScar, lambdaPatient));
	}

	private Fit describe(Solution solution, double lambdaScar, double lambdaPatient) {
		double residual = solution.squares() / (this.n - this.p);
		double[][] covariance = SymmetricMatrix.inverse(solution.factor());
		double[] standardised = solution.beta().clone();
		for (int j = 0; j < this.p; j++) {
			standardised[j] += this.leastSquares[j];
		}
		double[] estimates = SymmetricMatrix.times(this.design.back(), standardised);
		estimates[0] += this.centre;
		double[] errors = this.design.standardErrors(covariance);
		for (int j = 0; j < errors.length; j++) {
			errors[j] *= Math.sqrt(residual);
		}
		return new Fit(criterion(solution, lambdaScar, lambdaPatient), estimates, errors, residual);
	}

	private boolean isPerfect(Solution solution) {
		return !(solution.squares() > this.residuals / (LARGEST_RATIO * LARGEST_RATIO));
	}

	/**
	 * Minus infinity where nothing is left unexplained, infinity where it cannot be
	 * computed.
	 */
	private double criterion(double lambdaScar, double lambdaPatient) {
		return solve(lambdaScar, lambdaPatient)
			.map((solution) -> isPerfect(solution) ? Double.NEGATIVE_INFINITY
					: criterion(solution, lambdaScar, lambdaPatient))
			.orElse(Double.POSITIVE_INFINITY);
	}

	private double criterion(Solution solution, double lambdaScar, double lambdaPatient) {
		double residual = solution.squares() / (this.n - this.p);
		return (this.n - this.p) * (1 + Math.log(2 * Math.PI * residual)) + logDeterminant(lambdaScar, lambdaPatient)
				+ SymmetricMatrix.logDeterminant(solution.factor()) + scaleTerm();
	}

	/**
	 * The determinant is taken over standardised columns; this returns it to the original
	 * ones.
	 */
	private double scaleTerm() {
		double sum = 0;
		for (int j = 1; j < this.p; j++) {
			sum -= 2 * Math.log(this.design.back()[j][j]);
		}
		return sum;
	}

	/**
	 * Root of the ratio of the patients' intercepts at the minimum; exactly 0 where the
	 * minimum lies there.
	 */
	double minimisePatient() {
		return minimise((theta) -> criterion(0, theta * theta));
	}

	/**
	 * Roots of the ratios of scars and patients; one of them infinite where residuals are
	 * as good as 0, both NaN without an end. One ratio after the other, until Newton's
	 * method arrives from there; with one component at 0 the other is a search in one
	 * dimension, so alternating ends.
	 */
	double[] minimiseBoth() {
		double[] theta = { 1, 1 };
		for (int iteration = 0; iteration < MAX_ITERATIONS; iteration++) {
			double patient = theta[1];
			double scar = minimise((t) -> criterion(t * t, patient * patient));
			double next = minimise((t) -> criterion(scar * scar, t * t));
			if (Double.isInfinite(scar) || Double.isInfinite(next)) {
				return new double[] { scar, next };
			}
			double change = Math.abs(scar - theta[0]) / (1 + scar) + Math.abs(next - patient) / (1 + next);
			theta = new double[] { scar, next };
			Optional<double[]> polished = (change < 1e-3 && scar > 0 && next > 0) ? polish(theta) : Optional.empty();
			if (polished.isPresent() || change < 1e-9) {
				return polished.orElse(theta);
			}
		}
		return new double[] { Double.NaN, Double.NaN };
	}

	/**
	 * Newton's method with numerical derivatives near an inner minimum; empty when it
	 * does not lead to one.
	 */
	private Optional<double[]> polish(double[] start) {
		double[] theta = start.clone();
		for (int iteration = 0; iteration < 50; iteration++) {
			double h0 = 1e-4 * Math.max(theta[0], 1e-3);
			double h1 = 1e-4 * Math.max(theta[1], 1e-3);
			double centreValue = squared(theta[0], theta[1]);
			double up0 = squared(theta[0] + h0, theta[1]);
			double down0 = squared(theta[0] - h0, theta[1]);
			double up1 = squared(theta[0], theta[1] + h1);
			double down1 = squared(theta[0], theta[1] - h1);
			double g0 = (up0 - down0) / (2 * h0);
			double g1 = (up1 - down1) / (2 * h1);
			double a = (up0 - 2 * centreValue + down0) / (h0 * h0);
			double b = (up1 - 2 * centreValue + down1) / (h1 * h1);
			double c = (squared(theta[0] + h0, theta[1] + h1) - squared(theta[0] + h0, theta[1] - h1)
					- squared(theta[0] - h0, theta[1] + h1) + squared(theta[0] - h0, theta[1] - h1)) / (4 * h0 * h1);
			double determinant = a * b - c * c;
			if (!(determinant > 0) || !(a > 0)) {
				return Optional.empty();
			}
			double step0 = (b * g0 - c * g1) / determinant;
			double step1 = (a * g1 - c * g0) / determinant;
			if (!(theta[0] - step0 > 0) || !(theta[1] - step1 > 0)) {
				return Optional.empty();
			}
			theta[0] -= step0;
			theta[1] -= step1;
			// numerical derivatives carry no further
			if (Math.abs(step0) < 1e-7 * theta[0] && Math.abs(step1) < 1e-7 * theta[1]) {
				boolean better = squared(theta[0], theta[1]) <= squared(start[0], start[1]) + 1e-9;
				return better ? Optional.of(theta) : Optional.empty();
			}
		}
		return Optional.empty();
	}

	private double squared(double thetaScar, double thetaPatient) {
		return criterion(thetaScar * thetaScar, thetaPatient * thetaPatient);
	}

	/**
	 * Least value over theta at least 0: a grid brackets it, golden section narrows it,
	 * Newton steps finish it. Infinite when it lies beyond any reasonable ratio.
	 */
	private static double minimise(DoubleUnaryOperator criterion) {
		double best = criterion.applyAsDouble(0);
		double at = 0;
		double last = 0;
		// where the residuals are small the search goes on beyond the usual ratios
		while (last < USUAL_RATIO || at == last) {
			last = (last == 0) ? LEAST_RATIO : GRID * last;
			double value = criterion.applyAsDouble(last);
			if (last > LARGEST_RATIO || value == Double.NEGATIVE_INFINITY) {
				return Double.POSITIVE_INFINITY;
			}
			if (value < best) {
				best = value;
				at = last;
			}
		}
		double low = (at > LEAST_RATIO) ? at / GRID : 0;
		double high = (at > 0) ? at * GRID : LEAST_RATIO;
		double golden = (Math.sqrt(5) - 1) / 2;
		double left = high - golden * (high - low);
		double right = low + golden * (high - low);
		double leftValue = criterion.applyAsDouble(left);
		double rightValue = criterion.applyAsDouble(right);
		while (high - low > 1e-6 * (high + low) && high - low > 1e-12) {
			if (leftValue < rightValue) {
				high = right;
				right = left;
				rightValue = leftValue;
				left = high - golden * (high - low);
				leftValue = criterion.applyAsDouble(left);
			}
			else {
				low = left;
				left = right;
				leftValue = rightValue;
				right = low + golden * (high - low);
				rightValue = criterion.applyAsDouble(right);
			}
		}
		double theta = (low + high) / 2;
		// also where the criterion does not depend on the ratio at all
		if (!(criterion.applyAsDouble(theta) < criterion.applyAsDouble(0) - 1e-10)) {
			return 0;
		}
		double h = 1e-4 * theta;
		for (int i = 0; i < 20; i++) {
			double up = criterion.applyAsDouble(theta + h);
			double down = criterion.applyAsDouble(theta - h);
			double curvature = (up - 2 * criterion.applyAsDouble(theta) + down) / (h * h);
			double step = (up - down) / (2 * h) / curvature;
			if (!(curvature > 0) || !(Math.abs(step) < 0.1 * theta) || Math.abs(step) < 1e-11 * theta) {
				break;
			}
			theta -= step;
		}
		return theta;
	}

	/**
	 * Satterthwaite's degrees of freedom of each coefficient: \( 2 C^2 / (\gamma' 2
	 * H^{-1} \gamma) \) with C its variance as a function of the two variances,
	 * \(\gamma\) the gradient of C and H the second derivatives of the criterion, both
	 * numerical; 0 where they cannot be had.
	 */
	double[] satterthwaite(double patient, double residual) {
		// near 0 a step that the largest group can feel; the ratio may pass below 0 by so
		// little
		int largest = this.scarSizes.stream().mapToInt((sizes) -> sizes[0]).max().orElseThrow();
		double hp = 1e-3 * Math.max(patient, residual / largest);
		double hr = 1e-3 * residual;
		double centreValue = unprofiled(patient, residual);
		double hpp = (unprofiled(patient + hp, residual) - 2 * centreValue + unprofiled(patient - hp, residual))
				/ (hp * hp);
		double hrr = (unprofiled(patient, residual + hr) - 2 * centreValue + unprofiled(patient, residual - hr))
				/ (hr * hr);
		double hpr = (unprofiled(patient + hp, residual + hr) - unprofiled(patient + hp, residual - hr)
				- unprofiled(patient - hp, residual + hr) + unprofiled(patient - hp, residual - hr)) / (4 * hp * hr);
		double determinant = hpp * hrr - hpr * hpr;
		double[] variance = variances(patient, residual);
		double[] upPatient = variances(patient + hp, residual);
		double[] downPatient = variances(patient - hp, residual);
		double[] upResidual = variances(patient, residual + hr);
		double[] downResidual = variances(patient, residual - hr);
		double[] degrees = new double[variance.length];
		for (int j = 0; j < degrees.length; j++) {
			double gp = (upPatient[j] - downPatient[j]) / (2 * hp);
			double gr = (upResidual[j] - downResidual[j]) / (2 * hr);
			double form = 2 * (gp * gp * hrr - 2 * gp * gr * hpr + gr * gr * hpp) / determinant;
			degrees[j] = (form > 0) ? 2 * variance[j] * variance[j] / form : 0;
		}
		return degrees;
	}

	private double unprofiled(double patient, double residual) {
		double lambda = patient / residual;
		return solve(0, lambda)
			.map((solution) -> (this.n - this.p) * Math.log(2 * Math.PI * residual) + logDeterminant(0, lambda)
					+ SymmetricMatrix.logDeterminant(solution.factor()) + solution.squares() / residual)
			.orElse(Double.NaN);
	}

	private double[] variances(double patient, double residual) {
		double[] variances = new double[this.p];
		Arrays.fill(variances, Double.NaN);
		solve(0, patient / residual).ifPresent((solution) -> {
			double[] errors = this.design.standardErrors(SymmetricMatrix.inverse(solution.factor()));
			for (int j = 0; j < errors.length; j++) {
				variances[j] = errors[j] * errors[j] * residual;
			}
		});
		return variances;
	}

}
