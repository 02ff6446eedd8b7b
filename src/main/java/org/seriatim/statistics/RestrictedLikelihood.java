package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.function.DoubleUnaryOperator;

/**
 * REML criterion of random intercepts of patients and of scars within patients.
 * <p>
 * With \(\lambda_s, \lambda_p\) the intercept variances over the residual one, \( k_{ij}
 * = 1/(1 + \lambda_s n_{ij}) \), \( H_i = \sum_j n_{ij} k_{ij} \) and \( T_i(v) = \sum_j
 * k_{ij} S_{ij}(v) \), S the column sums over a scar: \( \langle u, v\rangle = u'v -
 * \sum_{ij} \lambda_s k_{ij} S_{ij}(u) S_{ij}(v) - \sum_i \frac{\lambda_p}{1 + \lambda_p
 * H_i} T_i(u) T_i(v) \) and \( \ln\det V = \sum_{ij} \ln(1 + \lambda_s n_{ij}) + \sum_i
 * \ln(1 + \lambda_p H_i) \). So one evaluation costs the number of scars, not of
 * measurements.
 */
final class RestrictedLikelihood {

	static final int MAX_ITERATIONS = 500;

	/** Columns of the design and, last, the centred response. */
	private final double[][] products;

	private final List<double[][]> scarSums = new ArrayList<>();

	private final List<int[]> scarSizes = new ArrayList<>();

	private final Covariates.Design design;

	private final double centre;

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
		double[][] columns = new double[this.n][this.p + 1];
		this.products = new double[this.p + 1][this.p + 1];
		for (int i = 0; i < this.n; i++) {
			System.arraycopy(design.row(i), 0, columns[i], 0, this.p);
			columns[i][this.p] = values[i] - mean;
			for (int r = 0; r <= this.p; r++) {
				for (int c = 0; c <= this.p; c++) {
					this.products[r][c] += columns[i][r] * columns[i][c];
				}
			}
		}
		for (Map<String, List<Integer>> scars : patients) {
			double[][] sums = new double[scars.size()][this.p + 1];
			int[] sizes = new int[scars.size()];
			int j = 0;
			for (List<Integer> rows : scars.values()) {
				sizes[j] = rows.size();
				for (int row : rows) {
					for (int c = 0; c <= this.p; c++) {
						sums[j][c] += columns[row][c];
					}
				}
				j++;
			}
			this.scarSums.add(sums);
			this.scarSizes.add(sizes);
		}
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
			inner[r] = this.products[r].clone();
		}
		for (int i = 0; i < this.scarSums.size(); i++) {
			double[] total = new double[this.p + 1];
			double h = 0;
			for (int j = 0; j < this.scarSizes.get(i).length; j++) {
				double size = this.scarSizes.get(i)[j];
				double k = 1 / (1 + lambdaScar * size);
				double[] sums = this.scarSums.get(i)[j];
				h += size * k;
				for (int r = 0; r <= this.p; r++) {
					total[r] += k * sums[r];
					for (int c = 0; c <= this.p; c++) {
						inner[r][c] -= lambdaScar * k * sums[r] * sums[c];
					}
				}
			}
			double shrink = lambdaPatient / (1 + lambdaPatient * h);
			for (int r = 0; r <= this.p; r++) {
				for (int c = 0; c <= this.p; c++) {
					inner[r][c] -= shrink * total[r] * total[c];
				}
			}
		}
		return inner;
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
	 * Cholesky factor of X'V^-1X, the coefficients and the weighted residual sum of
	 * squares.
	 */
	private record Solution(double[][] factor, double[] beta, double squares) {
	}

	private Solution solve(double lambdaScar, double lambdaPatient) {
		double[][] inner = weighted(lambdaScar, lambdaPatient);
		double[][] a = new double[this.p][this.p];
		double[] b = new double[this.p];
		for (int r = 0; r < this.p; r++) {
			System.arraycopy(inner[r], 0, a[r], 0, this.p);
			b[r] = inner[r][this.p];
		}
		double[][] factor = SymmetricMatrix.cholesky(a)
			// full rank was asked for before, so this is a ratio beyond all reason
			.orElseThrow(() -> new IllegalArgumentException("variance ratios must be moderate"));
		double[] beta = SymmetricMatrix.solve(factor, b);
		return new Solution(factor, beta, inner[this.p][this.p] - SymmetricMatrix.dot(beta, b));
	}

	/**
	 * Whether anything is left to explain.
	 */
	boolean hasResiduals() {
		return solve(0, 0).squares() > 1e-20 * Math.max(this.products[this.p][this.p], this.centre * this.centre);
	}

	Fit at(double lambdaScar, double lambdaPatient) {
		Solution solution = solve(lambdaScar, lambdaPatient);
		double residual = solution.squares() / (this.n - this.p);
		double[][] covariance = SymmetricMatrix.inverse(solution.factor());
		double[] estimates = SymmetricMatrix.times(this.design.back(), solution.beta());
		estimates[0] += this.centre;
		double[] errors = this.design.standardErrors(covariance);
		for (int j = 0; j < errors.length; j++) {
			errors[j] *= Math.sqrt(residual);
		}
		return new Fit(criterion(solution, lambdaScar, lambdaPatient), estimates, errors, residual);
	}

	private double criterion(double lambdaScar, double lambdaPatient) {
		return criterion(solve(lambdaScar, lambdaPatient), lambdaScar, lambdaPatient);
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
	 * Roots of the ratios of scars and patients.
	 */
	double[] minimiseBoth() {
		double[] theta = { 1, 1 };
		for (int iteration = 0; iteration < MAX_ITERATIONS; iteration++) {
			double patient = theta[1];
			double scar = minimise((t) -> criterion(t * t, patient * patient));
			double next = minimise((t) -> criterion(scar * scar, t * t));
			double change = Math.abs(scar - theta[0]) / (1 + scar) + Math.abs(next - patient) / (1 + next);
			theta[0] = scar;
			theta[1] = next;
			if (change < 1e-3) {
				break;
			}
		}
		return (theta[0] > 0 && theta[1] > 0) ? polish(theta) : settle(theta);
	}

	/**
	 * With one component at 0 the other is a search in one dimension, so alternating
	 * ends.
	 */
	private double[] settle(double[] theta) {
		for (int iteration = 0; iteration < MAX_ITERATIONS; iteration++) {
			double patient = theta[1];
			double scar = minimise((t) -> criterion(t * t, patient * patient));
			double next = minimise((t) -> criterion(scar * scar, t * t));
			double change = Math.abs(scar - theta[0]) / (1 + scar) + Math.abs(next - patient) / (1 + next);
			theta = new double[] { scar, next };
			if (change < 1e-9) {
				return theta;
			}
		}
		return new double[] { Double.NaN, Double.NaN };
	}

	/**
	 * Newton's method with numerical derivatives near an inner minimum.
	 */
	private double[] polish(double[] start) {
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
				return settle(theta);
			}
			double step0 = (b * g0 - c * g1) / determinant;
			double step1 = (a * g1 - c * g0) / determinant;
			if (theta[0] - step0 <= 0 || theta[1] - step1 <= 0) {
				return settle(theta);
			}
			theta[0] -= step0;
			theta[1] -= step1;
			if (Math.abs(step0) < 1e-8 * theta[0] && Math.abs(step1) < 1e-8 * theta[1]) {
				break;
			}
		}
		return theta;
	}

	private double squared(double thetaScar, double thetaPatient) {
		return criterion(thetaScar * thetaScar, thetaPatient * thetaPatient);
	}

	/**
	 * Least value over theta at least 0: a grid brackets it, golden section narrows it,
	 * Newton steps finish it.
	 */
	private static double minimise(DoubleUnaryOperator criterion) {
		int steps = 60;
		double[] grid = new double[steps + 1];
		double best = criterion.applyAsDouble(0);
		int at = 0;
		for (int i = 1; i <= steps; i++) {
			grid[i] = Math.exp(Math.log(1e-3) + (i - 1) * Math.log(1e6) / (steps - 1));
			double value = criterion.applyAsDouble(grid[i]);
			if (value < best) {
				best = value;
				at = i;
			}
		}
		double low = grid[Math.max(0, at - 1)];
		double high = grid[Math.min(steps, at + 1)];
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
		if (at <= 1 && !(criterion.applyAsDouble(theta) < criterion.applyAsDouble(0) - 1e-10)) {
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
	 * numerical.
	 */
	double[] satterthwaite(double patient, double residual) {
		double hp = 1e-4 * patient;
		double hr = 1e-4 * residual;
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
		Solution solution = solve(0, lambda);
		return (this.n - this.p) * Math.log(2 * Math.PI * residual) + logDeterminant(0, lambda)
				+ SymmetricMatrix.logDeterminant(solution.factor()) + solution.squares() / residual;
	}

	private double[] variances(double patient, double residual) {
		double[][] covariance = SymmetricMatrix.inverse(solve(0, patient / residual).factor());
		double[] errors = this.design.standardErrors(covariance);
		for (int j = 0; j < errors.length; j++) {
			errors[j] = errors[j] * errors[j] * residual;
		}
		return errors;
	}

}
