package org.seriatim.statistics;

import java.util.Arrays;
import java.util.Optional;

/**
 * The little linear algebra that the kernels need, on small symmetric matrices given as
 * full square arrays.
 */
final class SymmetricMatrix {

	/**
	 * A pivot that has lost this share of its diagonal element counts as zero.
	 */
	private static final double SINGULAR = 1e-11;

	private SymmetricMatrix() {
	}

	/**
	 * Lower triangle L with L L' = matrix; empty when the matrix is not positive definite
	 * or so close to singular that its inverse would be rounding.
	 */
	static Optional<double[][]> cholesky(double[][] matrix) {
		int n = matrix.length;
		double[][] lower = new double[n][n];
		for (int r = 0; r < n; r++) {
			for (int c = 0; c <= r; c++) {
				double sum = matrix[r][c];
				for (int k = 0; k < c; k++) {
					sum -= lower[r][k] * lower[c][k];
				}
				if (r > c) {
					lower[r][c] = sum / lower[c][c];
				}
				else if (sum > SINGULAR * matrix[r][r] && !Double.isInfinite(sum)) {
					lower[r][r] = Math.sqrt(sum);
				}
				else {
					return Optional.empty();
				}
			}
		}
		return Optional.of(lower);
	}

	/**
	 * Solves L L' x = right side.
	 */
	static double[] solve(double[][] lower, double[] rightSide) {
		int n = lower.length;
		double[] x = rightSide.clone();
		for (int r = 0; r < n; r++) {
			for (int c = 0; c < r; c++) {
				x[r] -= lower[r][c] * x[c];
			}
			x[r] /= lower[r][r];
		}
		for (int r = n - 1; r >= 0; r--) {
			for (int c = r + 1; c < n; c++) {
				x[r] -= lower[c][r] * x[c];
			}
			x[r] /= lower[r][r];
		}
		return x;
	}

	/**
	 * The inverse of L L'.
	 */
	static double[][] inverse(double[][] lower) {
		int n = lower.length;
		double[][] inverse = new double[n][];
		for (int c = 0; c < n; c++) {
			double[] unit = new double[n];
			unit[c] = 1;
			inverse[c] = solve(lower, unit);
		}
		for (int r = 0; r < n; r++) {
			for (int c = 0; c < r; c++) {
				double mean = 0.5 * (inverse[r][c] + inverse[c][r]);
				inverse[r][c] = mean;
				inverse[c][r] = mean;
			}
		}
		return inverse;
	}

	/**
	 * Logarithm of the determinant of L L'.
	 */
	static double logDeterminant(double[][] lower) {
		double sum = 0;
		for (int r = 0; r < lower.length; r++) {
			sum += 2 * Math.log(lower[r][r]);
		}
		return sum;
	}

	/**
	 * Eigenvalues of a symmetric matrix and, in the columns of {@code vectors}, its
	 * eigenvectors, by cyclic Jacobi rotations.
	 */
	static double[] eigenvalues(double[][] matrix, double[][] vectors) {
		int n = matrix.length;
		double[][] a = new double[n][];
		for (int r = 0; r < n; r++) {
			a[r] = matrix[r].clone();
			Arrays.fill(vectors[r], 0);
			vectors[r][r] = 1;
		}
		for (int sweep = 0; sweep < 60; sweep++) {
			double off = 0;
			double on = 0;
			for (int r = 0; r < n; r++) {
				on += a[r][r] * a[r][r];
				for (int c = 0; c < r; c++) {
					off += a[r][c] * a[r][c];
				}
			}
			if (off <= 1e-32 * on) {
				break;
			}
			for (int p = 0; p < n; p++) {
				for (int q = p + 1; q < n; q++) {
					rotate(a, vectors, p, q);
				}
			}
		}
		double[] values = new double[n];
		for (int r = 0; r < n; r++) {
			values[r] = a[r][r];
		}
		return values;
	}

	private static void rotate(double[][] a, double[][] vectors, int p, int q) {
		if (a[p][q] == 0) {
			return;
		}
		double theta = (a[q][q] - a[p][p]) / (2 * a[p][q]);
		double t = Math.copySign(1, theta) / (Math.abs(theta) + Math.hypot(theta, 1));
		double c = 1 / Math.hypot(t, 1);
		double s = t * c;
		for (int k = 0; k < a.length; k++) {
			double kp = a[k][p];
			double kq = a[k][q];
			a[k][p] = c * kp - s * kq;
			a[k][q] = s * kp + c * kq;
		}
		for (int k = 0; k < a.length; k++) {
			double pk = a[p][k];
			double qk = a[q][k];
			a[p][k] = c * pk - s * qk;
			a[q][k] = s * pk + c * qk;
			double vp = vectors[k][p];
			double vq = vectors[k][q];
			vectors[k][p] = c * vp - s * vq;
			vectors[k][q] = s * vp + c * vq;
		}
	}

	/** No eigenvalue is larger in size. */
	static double frobeniusNorm(double[][] matrix) {
		double sum = 0;
		for (double[] row : matrix) {
			sum += dot(row, row);
		}
		return Math.sqrt(sum);
	}

	static double[] times(double[][] matrix, double[] vector) {
		double[] product = new double[matrix.length];
		for (int r = 0; r < matrix.length; r++) {
			product[r] = dot(matrix[r], vector);
		}
		return product;
	}

	static double dot(double[] x, double[] y) {
		double sum = 0;
		for (int i = 0; i < x.length; i++) {
			sum += x[i] * y[i];
		}
		return sum;
	}

	/**
	 * x' M y.
	 */
	static double form(double[] x, double[][] matrix, double[] y) {
		return dot(x, times(matrix, y));
	}

}
