package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * The covariates of a regression, one row for each observation, without the column of
 * ones.
 *
 * @param names of the columns; the number of columns
 * @param rows as many values in each as there are names
 */
public record Covariates(List<String> names, List<double[]> rows) {

	public Covariates {
		names = List.copyOf(names);
		rows = List.copyOf(rows);
		for (double[] row : rows) {
			if (row.length != names.size()) {
				throw new IllegalArgumentException(
						"every row must have " + names.size() + " values, but one has " + row.length);
			}
			Measured.require("covariates", row);
		}
	}

	/**
	 * No covariates: an intercept only.
	 * @param observations number of observations
	 */
	public static Covariates none(int observations) {
		List<double[]> rows = new ArrayList<>();
		for (int i = 0; i < observations; i++) {
			rows.add(new double[0]);
		}
		return new Covariates(List.of(), rows);
	}

	void requireRows(int observations) {
		if (this.rows.size() != observations) {
			throw new IllegalArgumentException(
					"covariates must have " + observations + " rows, but have " + this.rows.size());
		}
	}

	/**
	 * Names of all coefficients, the intercept first.
	 */
	List<String> coefficientNames() {
		List<String> all = new ArrayList<>();
		all.add(Coefficient.INTERCEPT);
		all.addAll(this.names);
		return all;
	}

	/**
	 * The design with a column of ones first and each covariate centred and scaled, which
	 * keeps the digits of the normal equations; empty when the columns are not linearly
	 * independent.
	 */
	Optional<Design> standardise() {
		int n = this.rows.size();
		int p = this.names.size();
		double[] mean = new double[p];
		double[] scale = new double[p];
		for (double[] row : this.rows) {
			for (int j = 0; j < p; j++) {
				mean[j] += row[j] / n;
			}
		}
		for (double[] row : this.rows) {
			for (int j = 0; j < p; j++) {
				scale[j] += (row[j] - mean[j]) * (row[j] - mean[j]) / n;
			}
		}
		for (int j = 0; j < p; j++) {
			scale[j] = Math.sqrt(scale[j]);
			if (!(scale[j] > 1e-12 * Math.abs(mean[j])) || scale[j] == 0) {
				return Optional.empty();
			}
		}
		double[][] x = new double[n][p + 1];
		double[][] products = new double[p + 1][p + 1];
		for (int i = 0; i < n; i++) {
			x[i][0] = 1;
			for (int j = 0; j < p; j++) {
				x[i][j + 1] = (this.rows.get(i)[j] - mean[j]) / scale[j];
			}
			for (int r = 0; r <= p; r++) {
				for (int c = 0; c <= p; c++) {
					products[r][c] += x[i][r] * x[i][c];
				}
			}
		}
		// back[r] gives coefficient r in the units of the covariates
		double[][] back = new double[p + 1][p + 1];
		back[0][0] = 1;
		for (int j = 0; j < p; j++) {
			back[j + 1][j + 1] = 1 / scale[j];
			back[0][j + 1] = -mean[j] / scale[j];
		}
		return SymmetricMatrix.cholesky(products).map((factor) -> new Design(x, back, factor));
	}

	/**
	 * A standardised design of full rank.
	 *
	 * @param x rows with a 1 first
	 * @param back turns coefficients of the standardised columns into those of the
	 * original ones
	 * @param factor lower triangle of X'X
	 */
	record Design(double[][] x, double[][] back, double[][] factor) {

		int columns() {
			return this.back.length;
		}

		double[] row(int i) {
			return this.x[i];
		}

		/**
		 * Standard error of each original coefficient from the covariance of the
		 * standardised ones.
		 */
		double[] standardErrors(double[][] covariance) {
			double[] errors = new double[this.back.length];
			for (int r = 0; r < errors.length; r++) {
				errors[r] = Math.sqrt(Math.max(0, SymmetricMatrix.form(this.back[r], covariance, this.back[r])));
			}
			return errors;
		}

	}

}
