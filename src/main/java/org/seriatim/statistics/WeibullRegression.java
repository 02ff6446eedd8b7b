package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * How covariates stretch or shorten a duration: Weibull accelerated failure time
 * regression for exact, right-, left- and interval-censored durations.
 * <p>
 * \( \ln T = \beta_0 + x'\beta + \sigma\varepsilon \), \(\varepsilon\) standard minimum
 * extreme value; with \( u(t) = (\ln t - \mu)/\sigma \) the cumulative hazard is \( H(t)
 * = e^{u(t)} \) and \( S(t) = e^{-H(t)} \). A covariate multiplies the duration by its
 * <em>time ratio</em> \(e^{\beta_j}\) per unit. Maximised by Newton's method with
 * analytic first and second derivatives on \((\beta_0, \beta, \ln\sigma)\), covariates
 * centred and scaled within; converged when the step is below 1e-8 standard errors.
 * Variances come from the inverse V of the observed information, and, where patients are
 * given, from the sandwich over patients, \( V (\sum_g \tilde s_g \tilde s_g') V \), with
 * \( \tilde s_g = (I - I_g V)^{-1/2} s_g \) from the score and the information of patient
 * g, which corrects for few patients as CR2 does for means; limits are from the t
 * distribution on the number of patients less that of the coefficients of the location.
 * <ul>
 * <li>Observations (0, infinity) say nothing and are left out.</li>
 * <li>{@link Estimate.NotEstimable}: no observation; no finite right end; all left
 * censored; covariates constant or linearly dependent; and separation, when the
 * likelihood grows without limit: some time lies in every interval (without covariates),
 * \(\ln\sigma\) falls below -15, or a group has no finite maximum.</li>
 * <li>An exact duration of 0 is refused: its logarithm does not exist.</li>
 * </ul>
 * <p>
 * Sources: Kalbfleisch, Prentice 2002, The Statistical Analysis of Failure Time Data,
 * chapter 3; Odell, Anderson, D'Agostino 1992, Biometrics 48, 951-959; Lin, Wei 1989,
 * JASA 84, 1074-1078 (sandwich); Kauermann, Carroll 2001, JASA 96, 1387-1396 (its
 * correction).
 */
public final class WeibullRegression {

	private static final int MAX_ITERATIONS = 200;

	/**
	 * Least share of a direction that is left when one patient is taken out of it.
	 */
	private static final double LEAST_REST = 0.05;

	/** So that the series gains a binary digit with each term at least. */
	private static final double LARGEST_NORM_FOR_SERIES = 0.5;

	/**
	 * Scores are in units of their own standard error, and add up to the number of
	 * coefficients.
	 */
	private static final double NEGLIGIBLE = 1e-18;

	private static final double LEAST_LOG_SCALE = -15;

	/**
	 * Most by which the logarithm of the scale changes in one step.
	 */
	private static final double LONGEST_STEP = 1;

	/**
	 * A coefficient whose standard error, per standard deviation of its covariate,
	 * exceeds this has no finite maximum that could be told from infinity.
	 */
	private static final double LARGEST_ERROR = 1e3;

	private final List<String> names;

	private final double[] parameters;

	private final double[][] covariance;

	private final double[][] plainSandwich;

	private final double[][] correctedSandwich;

	private final int patients;

	private final int n;

	private final double logLikelihood;

	private final Optional<Double> interceptOnly;

	private final int iterations;

	private WeibullRegression(List<String> names, double[] parameters, double[][] covariance, double[][] plainSandwich,
			double[][] correctedSandwich, int patients, int n, double logLikelihood, Optional<Double> interceptOnly,
			int iterations) {
		this.names = names;
		this.parameters = parameters;
		this.covariance = covariance;
		this.plainSandwich = plainSandwich;
		this.correctedSandwich = correctedSandwich;
		this.patients = patients;
		this.n = n;
		this.logLikelihood = logLikelihood;
		this.interceptOnly = interceptOnly;
		this.iterations = iterations;
	}

	/**
	 * Durations that count as independent.
	 */
	public static Estimate<WeibullRegression> of(List<DurationInterval> durations, Covariates covariates) {
		return fit(durations, covariates, new int[0], 0);
	}

	/**
	 * Durations nested in patients.
	 * @param patients the patient of each duration, an opaque identifier
	 */
	public static Estimate<WeibullRegression> clustered(List<DurationInterval> durations, Covariates covariates,
			List<String> patients) {
		if (patients.size() != durations.size()) {
			throw new IllegalArgumentException(
					"patients must be as many as durations, " + durations.size() + ", but are " + patients.size());
		}
		Map<String, Integer> numbers = new LinkedHashMap<>();
		int[] patientOf = new int[patients.size()];
		for (int i = 0; i < patientOf.length; i++) {
			Integer known = numbers.putIfAbsent(patients.get(i), numbers.size());
			patientOf[i] = (known != null) ? known : numbers.size() - 1;
		}
		return fit(durations, covariates, patientOf, numbers.size());
	}

	private static Estimate<WeibullRegression> fit(List<DurationInterval> durations, Covariates covariates,
			int[] patientOf, int patients) {
		covariates.requireRows(durations.size());
		List<DurationInterval> informative = new ArrayList<>();
		List<double[]> rows = new ArrayList<>();
		List<Integer> rowPatients = new ArrayList<>();
		boolean finite = false;
		boolean later = false;
		for (int i = 0; i < durations.size(); i++) {
			DurationInterval duration = durations.get(i);
			if (duration.right() == 0) {
				throw new IllegalArgumentException("an exact duration must be above 0, but is 0");
			}
			if (duration.left() > 0 || !duration.isRightCensored()) {
				informative.add(duration);
				rows.add(covariates.rows().get(i));
				rowPatients.add((patients > 0) ? patientOf[i] : 0);
				finite |= !duration.isRightCensored();
				later |= duration.left() > 0;
			}
		}
		int n = informative.size();
		if (n == 0) {
			return Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0);
		}
		if (!finite) {
			return Estimate.notEstimable(Estimate.Reason.NO_EVENTS, n);
		}
		if (!later || (covariates.names().isEmpty() && haveCommonTime(informative))) {
			return Estimate.notEstimable(Estimate.Reason.SEPARATION, n);
		}
		Optional<Covariates.Design> design = new Covariates(covariates.names(), rows).standardise();
		if (design.isEmpty()) {
			return Estimate.notEstimable(Estimate.Reason.COLLINEAR, n);
		}
		WeibullLikelihood likelihood = new WeibullLikelihood(informative, design.get());
		double[] start = likelihood.start();
		Optional<WeibullMaximum> without = covariates.names().isEmpty() ? Optional.empty() : interceptOnly(informative);
		if (without.isPresent()) {
			start[0] = without.get().parameters()[0];
			start[start.length - 1] = without.get().parameters()[1];
		}
		Estimate<WeibullMaximum> found = maximise(likelihood, start);
		if (found instanceof Estimate.NotConverged<WeibullMaximum> failed) {
			return new Estimate.NotConverged<>(failed.criterion(), failed.iterations());
		}
		if (found instanceof Estimate.NotEstimable<WeibullMaximum> failed) {
			return Estimate.notEstimable(failed.reason(), n);
		}
		return Estimate.of(describe(covariates, design.get(), likelihood, found.known().orElseThrow(), rowPatients,
				patients, without.map(WeibullMaximum::logLikelihood)));
	}

	/**
	 * The fit without covariates, for which equal intervals are one row.
	 */
	private static Optional<WeibullMaximum> interceptOnly(List<DurationInterval> durations) {
		if (haveCommonTime(durations)) {
			return Optional.empty();
		}
		Map<DurationInterval, Integer> counts = new LinkedHashMap<>();
		for (DurationInterval duration : durations) {
			counts.merge(new DurationInterval(duration.left(), duration.right()), duration.count(), Integer::sum);
		}
		List<DurationInterval> merged = counts.entrySet()
			.stream()
			.map((entry) -> new DurationInterval(entry.getKey().left(), entry.getKey().right(), entry.getValue()))
			.toList();
		Covariates.Design constant = Covariates.none(merged.size()).standardise().orElseThrow();
		WeibullLikelihood likelihood = new WeibullLikelihood(merged, constant);
		return maximise(likelihood, likelihood.start()).known();
	}

	/**
	 * Whether some time lies in every interval, so that all the mass can sit there.
	 */
	private static boolean haveCommonTime(List<DurationInterval> durations) {
		double time = durations.stream().mapToDouble(DurationInterval::right).min().orElseThrow();
		return durations.stream()
			.allMatch((duration) -> duration.left() < time || (duration.isExact() && duration.left() == time));
	}

	private record WeibullMaximum(double[] parameters, double[][] inverseInformation, double logLikelihood,
			int iterations) {
	}

	private static Estimate<WeibullMaximum> maximise(WeibullLikelihood likelihood, double[] start) {
		double[] parameters = start;
		int p = parameters.length;
		double value = likelihood.evaluate(parameters);
		double step = Double.POSITIVE_INFINITY;
		for (int iteration = 1; iteration <= MAX_ITERATIONS; iteration++) {
			double[] gradient = likelihood.gradient().clone();
			double[][] information = likelihood.information();
			Optional<double[][]> factor = SymmetricMatrix.cholesky(information);
			boolean plain = factor.isPresent();
			// far from the maximum the likelihood need not be concave
			for (double damping = 1e-3; factor.isEmpty(); damping *= 10) {
				if (damping > 1e12) {
					return Estimate.notEstimable(Estimate.Reason.SEPARATION, 0);
				}
				double[][] damped = new double[p][];
				for (int r = 0; r < p; r++) {
					damped[r] = information[r].clone();
					damped[r][r] += damping * (Math.abs(information[r][r]) + 1e-8 * likelihood.rows());
				}
				factor = SymmetricMatrix.cholesky(damped);
			}
			double[] direction = SymmetricMatrix.solve(factor.get(), gradient);
			if (plain) {
				double[][] inverse = SymmetricMatrix.inverse(factor.get());
				step = 0;
				for (int r = 0; r < p; r++) {
					step = Math.max(step, Math.abs(direction[r]) / Math.sqrt(inverse[r][r]));
				}
				// an error that has no bound belongs to a coefficient that has none
				if ((step < 1e-8 || iteration > 20) && largestError(inverse) > LARGEST_ERROR) {
					return Estimate.notEstimable(Estimate.Reason.SEPARATION, 0);
				}
				if (step < 1e-8) {
					return Estimate.of(new WeibullMaximum(parameters, inverse, value, iteration));
				}
			}
			// a longer step may jump over the maximum into the plain where the scale is
			// too large
			double length = Math.min(1, LONGEST_STEP / Math.abs(direction[p - 1]));
			double[] next = new double[p];
			double nextValue = Double.NEGATIVE_INFINITY;
			for (int halving = 0; halving < 60; halving++) {
				for (int r = 0; r < p; r++) {
					next[r] = parameters[r] + length * direction[r];
				}
				nextValue = likelihood.evaluate(next);
				// the slack is rounding in a sum of this size
				if (nextValue >= value - 1e-12 * Math.abs(value)) {
					break;
				}
				length /= 2;
			}
			if (!(nextValue >= value - 1e-12 * Math.abs(value))) {
				return stopped(likelihood, parameters, step, iteration);
			}
			parameters = next;
			value = nextValue;
			if (parameters[p - 1] < LEAST_LOG_SCALE) {
				return Estimate.notEstimable(Estimate.Reason.SEPARATION, 0);
			}
			for (int r = 1; r < p - 1; r++) {
				// a time ratio of e^40 per standard deviation is on its way to infinity
				if (Math.abs(parameters[r]) > 40 * Math.max(1, Math.exp(parameters[p - 1]))) {
					return Estimate.notEstimable(Estimate.Reason.SEPARATION, 0);
				}
			}
		}
		return stopped(likelihood, parameters, step, MAX_ITERATIONS);
	}

	/**
	 * A likelihood that no longer grows, but has no curvature left either, is on its way
	 * to a limit that it does not reach.
	 */
	private static Estimate<WeibullMaximum> stopped(WeibullLikelihood likelihood, double[] parameters, double step,
			int iterations) {
		likelihood.evaluate(parameters);
		boolean flat = SymmetricMatrix.cholesky(likelihood.information())
			.map((factor) -> largestError(SymmetricMatrix.inverse(factor)) > LARGEST_ERROR)
			.orElse(true);
		return flat ? Estimate.notEstimable(Estimate.Reason.SEPARATION, 0)
				: new Estimate.NotConverged<>(step, iterations);
	}

	private static double largestError(double[][] inverseInformation) {
		double largest = 0;
		for (int r = 0; r < inverseInformation.length; r++) {
			largest = Math.max(largest, Math.sqrt(inverseInformation[r][r]));
		}
		return largest;
	}

	private static WeibullRegression describe(Covariates covariates, Covariates.Design design,
			WeibullLikelihood likelihood, WeibullMaximum maximum, List<Integer> patientOf, int patients,
			Optional<Double> interceptOnly) {
		int p = maximum.parameters().length;
		double[][] back = new double[p][p];
		for (int r = 0; r < p - 1; r++) {
			System.arraycopy(design.back()[r], 0, back[r], 0, p - 1);
		}
		back[p - 1][p - 1] = 1;
		double[][] plain = new double[0][];
		double[][] corrected = new double[0][];
		if (patients >= 2) {
			var contributions = likelihood.contributions(maximum.parameters(), patientOf, patients);
			plain = conjugate(back, sandwich(contributions, maximum.inverseInformation(), false));
			corrected = conjugate(back, sandwich(contributions, maximum.inverseInformation(), true));
		}
		return new WeibullRegression(covariates.coefficientNames(), SymmetricMatrix.times(back, maximum.parameters()),
				conjugate(back, maximum.inverseInformation()), plain, corrected, patients, likelihood.rows(),
				maximum.logLikelihood(), interceptOnly, maximum.iterations());
	}

	/**
	 * V (sum of s s' over patients) V. In the coordinates in which V is the unit matrix
	 * the correction multiplies a patient's score by (I - M)^(-1/2), M its information:
	 * it gives back what the fit has taken from the residuals of that patient.
	 */
	private static double[][] sandwich(WeibullLikelihood.Contribution[] contributions, double[][] v,
			boolean corrected) {
		int p = v.length;
		double[][] root = SymmetricMatrix.cholesky(v).orElseThrow();
		double[][] turned = new double[p][p];
		for (int r = 0; r < p; r++) {
			for (int c = 0; c < p; c++) {
				turned[c][r] = root[r][c];
			}
		}
		double[][] meat = new double[p][p];
		for (WeibullLikelihood.Contribution contribution : contributions) {
			double[] score = SymmetricMatrix.times(turned, contribution.score());
			if (corrected) {
				score = spread(score, conjugate(turned, contribution.information()));
			}
			for (int r = 0; r < p; r++) {
				for (int c = 0; c < p; c++) {
					meat[r][c] += score[r] * score[c];
				}
			}
		}
		return conjugate(root, meat);
	}

	private static double[] spread(double[] score, double[][] information) {
		int p = score.length;
		if (SymmetricMatrix.frobeniusNorm(information) <= LARGEST_NORM_FOR_SERIES) {
			return spreadBySeries(score, information);
		}
		double[][] vectors = new double[p][p];
		double[] values = SymmetricMatrix.eigenvalues(information, vectors);
		double[] spread = new double[p];
		for (int e = 0; e < p; e++) {
			double part = 0;
			for (int r = 0; r < p; r++) {
				part += vectors[r][e] * score[r];
			}
			// a patient who alone determines a direction has no residual in it
			part /= Math.sqrt(Math.max(LEAST_REST, 1 - values[e]));
			for (int r = 0; r < p; r++) {
				spread[r] += part * vectors[r][e];
			}
		}
		return spread;
	}

	/**
	 * \( (I - M)^{-1/2} s = \sum_k \binom{2k}{k} 4^{-k} M^k s \), to the last digit: of
	 * many patients each determines little, and then this is a few products where
	 * eigenvalues would take thousands of rotations.
	 */
	private static double[] spreadBySeries(double[] score, double[][] information) {
		double[] spread = score.clone();
		double[] power = score;
		double coefficient = 1;
		double largest = Double.POSITIVE_INFINITY;
		for (int k = 1; largest > NEGLIGIBLE; k++) {
			power = SymmetricMatrix.times(information, power);
			coefficient *= (2 * k - 1) / (2.0 * k);
			largest = 0;
			for (int r = 0; r < spread.length; r++) {
				spread[r] += coefficient * power[r];
				largest = Math.max(largest, Math.abs(coefficient * power[r]));
			}
		}
		return spread;
	}

	/**
	 * A M A'.
	 */
	private static double[][] conjugate(double[][] a, double[][] m) {
		double[][] product = new double[a.length][a.length];
		for (int r = 0; r < a.length; r++) {
			// M is symmetric, so that its product with the row is the row of A M
			double[] row = SymmetricMatrix.times(m, a[r]);
			for (int c = 0; c < a.length; c++) {
				product[r][c] = SymmetricMatrix.dot(row, a[c]);
			}
		}
		return product;
	}

	/**
	 * Coefficients of the logarithm of the duration, the intercept first, with
	 * model-based standard errors.
	 */
	public List<Coefficient> coefficients() {
		return coefficients(this.covariance);
	}

	/**
	 * The same with standard errors that take patients into account; empty without
	 * patients, or with one.
	 */
	public Optional<List<Coefficient>> clusteredCoefficients() {
		return hasPatients() ? Optional.of(coefficients(this.correctedSandwich)) : Optional.empty();
	}

	/**
	 * The same without the correction for few patients, as most programs print them; too
	 * small with few patients.
	 */
	public Optional<List<Coefficient>> uncorrectedCoefficients() {
		return hasPatients() ? Optional.of(coefficients(this.plainSandwich)) : Optional.empty();
	}

	private boolean hasPatients() {
		return this.correctedSandwich.length > 0;
	}

	private List<Coefficient> coefficients(double[][] errors) {
		List<Coefficient> list = new ArrayList<>();
		for (int r = 0; r < this.names.size(); r++) {
			list.add(new Coefficient(this.names.get(r), this.parameters[r], Math.sqrt(errors[r][r])));
		}
		return List.copyOf(list);
	}

	/**
	 * Logarithm of the scale \(\sigma\), with its model-based standard error.
	 */
	public Coefficient logScale() {
		int last = this.parameters.length - 1;
		return new Coefficient("ln(scale)", this.parameters[last], Math.sqrt(this.covariance[last][last]));
	}

	/**
	 * \(\sigma\).
	 */
	public double scale() {
		return Math.exp(this.parameters[this.parameters.length - 1]);
	}

	/**
	 * Shape of the Weibull distribution, \(1/\sigma\); above 1 the hazard rises.
	 */
	public double shape() {
		return 1 / scale();
	}

	/**
	 * Model-based covariance of \((\beta_0, \beta, \ln\sigma)\).
	 */
	public List<List<Double>> covariance() {
		return Arrays.stream(this.covariance).map((row) -> Arrays.stream(row).boxed().toList()).toList();
	}

	/**
	 * Number of observations that say something.
	 */
	public int n() {
		return this.n;
	}

	/**
	 * Number of patients; 0 when none were given.
	 */
	public int patients() {
		return this.patients;
	}

	/**
	 * Number of Newton steps.
	 */
	public int iterations() {
		return this.iterations;
	}

	/**
	 * Natural logarithm of the likelihood on the scale of time.
	 */
	public double logLikelihood() {
		return this.logLikelihood;
	}

	/**
	 * Factor by which a unit of a covariate multiplies the duration.
	 *
	 * @param name of the covariate
	 * @param estimate the ratio, above 0
	 * @param low lower limit
	 * @param high upper limit
	 */
	public record TimeRatio(String name, double estimate, double low, double high) {
	}

	/**
	 * Time ratios with model-based normal limits.
	 */
	public List<TimeRatio> timeRatios(double confidence) {
		return timeRatios(coefficients(), Tails.normalHalfWidth(confidence));
	}

	/**
	 * Time ratios with limits that take patients into account; empty without patients,
	 * with one, or when there are not more patients than coefficients.
	 */
	public Optional<List<TimeRatio>> clusteredTimeRatios(double confidence) {
		Tails.requireConfidence(confidence);
		int degrees = this.patients - this.names.size();
		if (!hasPatients() || degrees < 1) {
			return Optional.empty();
		}
		return Optional
			.of(timeRatios(coefficients(this.correctedSandwich), Tails.studentHalfWidth(confidence, degrees)));
	}

	private static List<TimeRatio> timeRatios(List<Coefficient> coefficients, double half) {
		return coefficients.stream()
			.skip(1)
			.map((coefficient) -> new TimeRatio(coefficient.name(), Math.exp(coefficient.estimate()),
					Math.exp(coefficient.estimate() - half * coefficient.standardError()),
					Math.exp(coefficient.estimate() + half * coefficient.standardError())))
			.toList();
	}

	/**
	 * Likelihood ratio test of all covariates together.
	 *
	 * @param interceptOnly log-likelihood without covariates
	 * @param chiSquare twice the difference
	 * @param degreesOfFreedom number of covariates
	 * @param pValue of independent observations: it does not know patients
	 */
	public record LikelihoodRatio(double interceptOnly, double chiSquare, int degreesOfFreedom, double pValue) {
	}

	/**
	 * Empty without covariates, and where the likelihood without them has no maximum.
	 */
	public Optional<LikelihoodRatio> likelihoodRatio() {
		int degrees = this.names.size() - 1;
		return this.interceptOnly.map((without) -> {
			double chiSquare = Math.max(0, 2 * (this.logLikelihood - without));
			return new LikelihoodRatio(without, chiSquare, degrees, Tails.chiSquareAbove(chiSquare, degrees));
		});
	}

	/**
	 * \( P(T \le by \mid T > presentAt) \), 0 when {@code by} is not after
	 * {@code presentAt}.
	 * @param x one value for each covariate
	 */
	public double probabilityGoneBy(double by, double presentAt, double... x) {
		if (!(by >= 0) || !(presentAt >= 0)) {
			throw new IllegalArgumentException("times must be at least 0, but are " + by + " and " + presentAt);
		}
		if (by <= presentAt) {
			return 0;
		}
		double location = location(x);
		double before = hazard(presentAt, location);
		return Double.isInfinite(before) ? 1 : -Math.expm1(before - hazard(by, location));
	}

	private double hazard(double time, double location) {
		return (time == 0) ? 0 : Math.exp((Math.log(time) - location) / scale());
	}

	/**
	 * The time by which a share has gone.
	 * @param level share, strictly between 0 and 1
	 * @param x one value for each covariate
	 */
	public double quantile(double level, double... x) {
		if (!(level > 0 && level < 1)) {
			throw new IllegalArgumentException("level must be strictly between 0 and 1, but is " + level);
		}
		return Math.exp(location(x) + scale() * Math.log(-Math.log1p(-level)));
	}

	private double location(double... x) {
		if (x.length != this.names.size() - 1) {
			throw new IllegalArgumentException(
					"covariates must be " + (this.names.size() - 1) + ", but are " + x.length);
		}
		double location = this.parameters[0];
		for (int j = 0; j < x.length; j++) {
			if (!Double.isFinite(x[j])) {
				throw new IllegalArgumentException("covariates must be finite, but one is " + x[j]);
			}
			location += this.parameters[j + 1] * x[j];
		}
		return location;
	}

}
