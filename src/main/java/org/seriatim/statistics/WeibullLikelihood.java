package org.seriatim.statistics;

import java.util.Arrays;
import java.util.List;

/**
 * Log-likelihood of a Weibull regression with its first and second derivatives with
 * respect to \((\beta, \ln\sigma)\).
 * <p>
 * Each row contributes through \( u = (\ln t - \mu)/\sigma \). An interval (L, R] is
 * written with \( a = u(L) \) and the width \( w = \ln(R/L)/\sigma \): \( \ell = -e^a +
 * \ln(1 - e^{-\Delta}) \), \( \Delta = e^a (e^w - 1) \). With \( c_1 = \Delta/(e^\Delta -
 * 1) \) and \( c_2 = w/(e^w - 1) \) all derivatives are sums of terms that stay finite
 * and keep their digits for narrow intervals, where differences of survival values lose
 * all of them.
 */
final class WeibullLikelihood {

	/**
	 * From here on exp(x) - 1 keeps 15 digits as it stands, and is faster.
	 */
	private static final double PLAIN = 0.1;

	/**
	 * From here on exp(x) - 1 is exp(x), and exp(x) still far from overflow.
	 */
	private static final double LARGE = 40;

	private final int rows;

	private final int columns;

	private final double[] x;

	private final double[] logLeft;

	private final double[] logRight;

	private final double[] weight;

	private final double[] gradient;

	private final double[][] information;

	// derivatives of one row: location, scale, and the three second ones
	private double valueOfRow;

	/** The row's value lacks the logarithm of this. */
	private double factorOfRow;

	private double dLocation;

	private double dScale;

	private double dLocationLocation;

	private double dLocationScale;

	private double dScaleScale;

	WeibullLikelihood(List<DurationInterval> durations, Covariates.Design design) {
		this.rows = durations.size();
		this.columns = design.columns();
		this.x = new double[this.rows * this.columns];
		this.logLeft = new double[this.rows];
		this.logRight = new double[this.rows];
		this.weight = new double[this.rows];
		this.gradient = new double[this.columns + 1];
		this.information = new double[this.columns + 1][this.columns + 1];
		for (int i = 0; i < this.rows; i++) {
			DurationInterval duration = durations.get(i);
			System.arraycopy(design.row(i), 0, this.x, i * this.columns, this.columns);
			this.logLeft[i] = Math.log(duration.left());
			this.logRight[i] = Math.log(duration.right());
			this.weight[i] = duration.count();
		}
	}

	int rows() {
		return this.rows;
	}

	/**
	 * Moments of the logarithms of the middles of the intervals.
	 */
	double[] start() {
		double sum = 0;
		double squares = 0;
		double total = 0;
		for (int i = 0; i < this.rows; i++) {
			double middle;
			if (Double.isInfinite(this.logRight[i])) {
				middle = this.logLeft[i];
			}
			else if (Double.isInfinite(this.logLeft[i])) {
				middle = this.logRight[i] - Math.log(2);
			}
			else {
				middle = 0.5 * (this.logLeft[i] + this.logRight[i]);
			}
			sum += this.weight[i] * middle;
			squares += this.weight[i] * middle * middle;
			total += this.weight[i];
		}
		double mean = sum / total;
		// standard deviation and mean of the extreme value distribution
		double scale = Math.max(0.1, Math.sqrt(Math.max(0, squares / total - mean * mean)) * Math.sqrt(6) / Math.PI);
		double[] start = new double[this.columns + 1];
		start[0] = mean + 0.5772 * scale;
		start[this.columns] = Math.log(scale);
		return start;
	}

	/**
	 * Log-likelihood at these parameters; afterwards {@link #gradient()} and
	 * {@link #information()} belong to them.
	 */
	double evaluate(double[] parameters) {
		int p = this.columns;
		double logScale = parameters[p];
		double inverseScale = Math.exp(-logScale);
		Arrays.fill(this.gradient, 0);
		for (double[] row : this.information) {
			Arrays.fill(row, 0);
		}
		double sum = 0;
		double product = 1;
		for (int i = 0; i < this.rows; i++) {
			int at = i * p;
			double location = 0;
			for (int j = 0; j < p; j++) {
				location += this.x[at + j] * parameters[j];
			}
			derive(this.logLeft[i], this.logRight[i], location, logScale, inverseScale);
			double w = this.weight[i];
			sum += w * this.valueOfRow;
			// one logarithm for many rows: it costs as much as all the rest of a row
			if (w == 1 && this.factorOfRow > 1e-30) {
				product *= this.factorOfRow;
				if (product < 1e-250 || product > 1e250) {
					sum += Math.log(product);
					product = 1;
				}
			}
			else {
				sum += w * Math.log(this.factorOfRow);
			}
			double first = w * this.dLocation;
			double second = w * this.dLocationLocation;
			double mixed = w * this.dLocationScale;
			for (int r = 0; r < p; r++) {
				double value = this.x[at + r];
				this.gradient[r] += first * value;
				this.information[p][r] -= mixed * value;
				double scaled = second * value;
				double[] row = this.information[r];
				for (int c = 0; c <= r; c++) {
					row[c] -= scaled * this.x[at + c];
				}
			}
			this.gradient[p] += w * this.dScale;
			this.information[p][p] -= w * this.dScaleScale;
		}
		sum += Math.log(product);
		for (int r = 0; r <= p; r++) {
			for (int c = 0; c < r; c++) {
				this.information[c][r] = this.information[r][c];
			}
		}
		return Double.isNaN(sum) ? Double.NEGATIVE_INFINITY : sum;
	}

	private void derive(double logLeft, double logRight, double location, double logScale, double inverseScale) {
		this.factorOfRow = 1;
		if (logLeft == logRight) {
			double u = (logLeft - location) * inverseScale;
			double hazard = Math.exp(u);
			this.valueOfRow = u - logScale - logLeft - hazard;
			fromU(u, 1 - hazard, -hazard, inverseScale);
			this.dScale -= 1;
		}
		else if (logRight == Double.POSITIVE_INFINITY) {
			double u = (logLeft - location) * inverseScale;
			double hazard = Math.exp(u);
			this.valueOfRow = -hazard;
			fromU(u, -hazard, -hazard, inverseScale);
		}
		else if (logLeft == Double.NEGATIVE_INFINITY) {
			double u = (logRight - location) * inverseScale;
			double hazard = Math.exp(u);
			double gone = oneMinusExp(hazard);
			double c = ratio(hazard, gone);
			this.valueOfRow = (gone > 0) ? 0 : u;
			this.factorOfRow = (gone > 0) ? gone : 1;
			fromU(u, c, c * (1 - hazard - c), inverseScale);
		}
		else {
			interval(logLeft, logRight, location, inverseScale);
		}
	}

	/**
	 * From the derivatives with respect to u, where the row depends on u alone.
	 */
	private void fromU(double u, double first, double second, double inverseScale) {
		this.dLocation = -first * inverseScale;
		this.dScale = -u * first;
		this.dLocationLocation = second * inverseScale * inverseScale;
		this.dLocationScale = (first + u * second) * inverseScale;
		this.dScaleScale = u * (first + u * second);
	}

	private void interval(double logLeft, double logRight, double location, double inverseScale) {
		double a = (logLeft - location) * inverseScale;
		double w = (logRight - logLeft) * inverseScale;
		double hazard = Math.exp(a);
		double grown = (w > PLAIN) ? Math.exp(w) - 1 : Math.expm1(w);
		// a wide interval under a steep hazard is beyond all numbers unless taken as a
		// whole
		double delta = (w > LARGE) ? Math.exp(a + w) : hazard * grown;
		double gone = oneMinusExp(delta);
		double c1 = ratio(delta, gone);
		double c2 = Double.isInfinite(grown) ? 0 : w / grown;
		double vv = c1 * (1 - delta - c1);
		if (Double.isInfinite(delta)) {
			vv = 0;
		}
		double wm = w + c2;
		double la = c1 - hazard;
		double laa = vv - hazard;
		this.valueOfRow = (gone > 0) ? -hazard : a - hazard + ((w > LARGE) ? w : 0);
		this.factorOfRow = (gone > 0) ? gone : (w > LARGE) ? 1 : grown;
		this.dLocation = -la * inverseScale;
		this.dScale = -a * la - c1 * wm;
		this.dLocationLocation = laa * inverseScale * inverseScale;
		this.dLocationScale = (la + a * laa + vv * wm) * inverseScale;
		this.dScaleScale = a * la + c1 * wm + a * a * laa + 2 * a * vv * wm + vv * wm * wm - c1 * wm * c2;
	}

	/**
	 * 1 - exp(-d).
	 */
	private static double oneMinusExp(double d) {
		return (d > PLAIN) ? 1 - Math.exp(-d) : -Math.expm1(-d);
	}

	/**
	 * d / (exp(d) - 1) from d and 1 - exp(-d); 1 at 0.
	 */
	private static double ratio(double d, double gone) {
		if (d < 1e-300) {
			return 1;
		}
		return (d > 700) ? 0 : d * (1 - gone) / gone;
	}

	double[] gradient() {
		return this.gradient;
	}

	/**
	 * Observed information: minus the second derivatives.
	 */
	double[][] information() {
		return this.information;
	}

	/**
	 * What one patient's rows contribute: first derivatives, and minus the second ones.
	 */
	record Contribution(double[] score, double[][] information) {
	}

	Contribution[] contributions(double[] parameters, List<Integer> patientOf, int patients) {
		int p = this.columns;
		Contribution[] contributions = new Contribution[patients];
		Arrays.setAll(contributions, (g) -> new Contribution(new double[p + 1], new double[p + 1][p + 1]));
		double inverseScale = Math.exp(-parameters[p]);
		for (int i = 0; i < this.rows; i++) {
			double location = 0;
			for (int j = 0; j < p; j++) {
				location += this.x[i * p + j] * parameters[j];
			}
			derive(this.logLeft[i], this.logRight[i], location, parameters[p], inverseScale);
			Contribution own = contributions[patientOf.get(i)];
			double w = this.weight[i];
			for (int r = 0; r < p; r++) {
				double value = w * this.x[i * p + r];
				own.score()[r] += value * this.dLocation;
				own.information()[r][p] -= value * this.dLocationScale;
				own.information()[p][r] -= value * this.dLocationScale;
				for (int c = 0; c < p; c++) {
					own.information()[r][c] -= value * this.x[i * p + c] * this.dLocationLocation;
				}
			}
			own.score()[p] += w * this.dScale;
			own.information()[p][p] -= w * this.dScaleScale;
		}
		return contributions;
	}

}
