package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Change per session when patients, and scars within patients, start from levels of their
 * own: linear mixed model with random intercepts, by restricted maximum likelihood.
 * <p>
 * \( y = X\beta + b_{patient} + b_{scar} + e \), all random parts normal; with
 * \(\lambda\) the variance of an intercept over the residual variance the criterion is a
 * function of the \(\lambda\)s alone: \( (N-p)(1 + \ln(2\pi\sigma^2)) + \ln\det
 * V(\lambda) + \ln\det X'V^{-1}X \), of which twice the negative log-likelihood is the
 * minimum.
 * <ul>
 * <li>{@link Estimate.NotEstimable}: covariates constant or linearly dependent; fewer
 * than two groups; every group (and every scar, where scars are given) of size 1; not
 * more observations than coefficients plus one; residuals all 0, or as good as 0 beside
 * the differences between patients.</li>
 * <li>A variance component of 0 is a result: {@code singular}. Degrees of freedom are
 * then not defined; use {@link ClusterRobustRegression}.</li>
 * </ul>
 * <p>
 * Sources: Laird, Ware 1982, Biometrics 38, 963-974; Pinheiro, Bates 2000, Mixed-Effects
 * Models in S and S-PLUS; Bates et al. 2015, Journal of Statistical Software 67(1);
 * Giesbrecht, Burns 1985, Biometrics 41, 477-486 (degrees of freedom).
 *
 * @param terms coefficients, the intercept first
 * @param variancePatient of the patients' intercepts
 * @param varianceScar of the scars' intercepts within patients; empty without them
 * @param varianceResidual of single measurements
 * @param criterion minimum of the REML criterion, on the scale of minus twice the
 * log-likelihood
 * @param singular whether a variance component is 0
 * @param n number of measurements
 * @param patients number of patients
 */
public record RandomInterceptModel(List<Term> terms, double variancePatient, OptionalDouble varianceScar,
		double varianceResidual, double criterion, boolean singular, int n, int patients) {

	/**
	 * A coefficient.
	 *
	 * @param name of the covariate, or {@value Coefficient#INTERCEPT}
	 * @param estimate per unit of the covariate
	 * @param standardError of the estimate
	 * @param degreesOfFreedom Satterthwaite's; empty when the fit is singular or scars
	 * are given
	 */
	public record Term(String name, double estimate, double standardError, OptionalDouble degreesOfFreedom) {

		/**
		 * Limits from the t distribution; empty without degrees of freedom.
		 */
		public Optional<Bounds> limits(double confidence) {
			Tails.requireConfidence(confidence);
			if (this.degreesOfFreedom.isEmpty()) {
				return Optional.empty();
			}
			double half = this.standardError * Tails.studentHalfWidth(confidence, this.degreesOfFreedom.getAsDouble());
			return Optional.of(new Bounds(this.estimate - half, this.estimate + half));
		}

	}

	/**
	 * A measurement.
	 *
	 * @param patient opaque identifier
	 * @param scar label, unique within its patient
	 * @param value finite
	 */
	public record Measurement(String patient, String scar, double value) {

		public Measurement {
			Measured.require("value", value);
		}

	}

	/**
	 * Intercepts of patients only.
	 */
	public static Estimate<RandomInterceptModel> ofPatients(List<Clustered<Double>> values, Covariates covariates) {
		List<Measurement> measurements = values.stream()
			.map((value) -> new Measurement(value.patient(), "", value.value()))
			.toList();
		return fit(measurements, covariates, false);
	}

	/**
	 * Intercepts of patients, and of scars within patients.
	 */
	public static Estimate<RandomInterceptModel> ofScars(List<Measurement> measurements, Covariates covariates) {
		return fit(measurements, covariates, true);
	}

	/**
	 * Share of the variance that lies between patients.
	 */
	public double intraclassCorrelation() {
		double between = this.variancePatient + this.varianceScar.orElse(0);
		return this.variancePatient / (between + this.varianceResidual);
	}

	/**
	 * Restricted log-likelihood.
	 */
	public double logLikelihood() {
		return -this.criterion / 2;
	}

	private static Estimate<RandomInterceptModel> fit(List<Measurement> measurements, Covariates covariates,
			boolean nested) {
		covariates.requireRows(measurements.size());
		int n = measurements.size();
		int p = covariates.names().size() + 1;
		if (n == 0) {
			return Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0);
		}
		Map<String, Map<String, List<Integer>>> groups = new LinkedHashMap<>();
		for (int i = 0; i < n; i++) {
			groups.computeIfAbsent(measurements.get(i).patient(), (key) -> new LinkedHashMap<>())
				.computeIfAbsent(measurements.get(i).scar(), (key) -> new ArrayList<>())
				.add(i);
		}
		if (groups.size() < 2) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_CLUSTERS, groups.size());
		}
		boolean repeated = groups.values()
			.stream()
			.anyMatch((scars) -> nested ? scars.values().stream().anyMatch((rows) -> rows.size() > 1)
					: scars.values().iterator().next().size() > 1);
		boolean severalScars = !nested || groups.values().stream().anyMatch((scars) -> scars.size() > 1);
		if (n <= p + 1 || !repeated || !severalScars) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_OBSERVATIONS, n);
		}
		Optional<Covariates.Design> design = covariates.standardise();
		if (design.isEmpty()) {
			return Estimate.notEstimable(Estimate.Reason.COLLINEAR, n);
		}
		RestrictedLikelihood likelihood = new RestrictedLikelihood(
				measurements.stream().mapToDouble(Measurement::value).toArray(), design.get(), groups.values());
		if (!likelihood.hasResiduals()) {
			return Estimate.notEstimable(Estimate.Reason.NO_VARIATION, n);
		}
		double[] theta = nested ? likelihood.minimiseBoth() : new double[] { 0, likelihood.minimisePatient() };
		if (Double.isInfinite(theta[0]) || Double.isInfinite(theta[1])) {
			return Estimate.notEstimable(Estimate.Reason.NO_VARIATION, n);
		}
		if (Double.isNaN(theta[1])) {
			return new Estimate.NotConverged<>(Double.POSITIVE_INFINITY, RestrictedLikelihood.MAX_ITERATIONS);
		}
		return likelihood.at(theta[0] * theta[0], theta[1] * theta[1])
			.map((fit) -> Estimate.of(describe(likelihood, fit, theta, covariates, nested, n, groups.size())))
			.orElse(Estimate.notEstimable(Estimate.Reason.NO_VARIATION, n));
	}

	private static RandomInterceptModel describe(RestrictedLikelihood likelihood, RestrictedLikelihood.Fit fit,
			double[] theta, Covariates covariates, boolean nested, int n, int patients) {
		boolean singular = theta[1] == 0 || (nested && theta[0] == 0);
		double variancePatient = theta[1] * theta[1] * fit.residual();
		double[] degrees = (nested || singular) ? new double[0]
				: likelihood.satterthwaite(variancePatient, fit.residual());
		List<Term> terms = new ArrayList<>();
		for (int j = 0; j < fit.estimates().length; j++) {
			OptionalDouble df = (degrees.length > 0 && degrees[j] > 0) ? OptionalDouble.of(degrees[j])
					: OptionalDouble.empty();
			terms.add(new Term(covariates.coefficientNames().get(j), fit.estimates()[j], fit.errors()[j], df));
		}
		OptionalDouble varianceScar = nested ? OptionalDouble.of(theta[0] * theta[0] * fit.residual())
				: OptionalDouble.empty();
		return new RandomInterceptModel(List.copyOf(terms), variancePatient, varianceScar, fit.residual(),
				fit.criterion(), singular, n, patients);
	}

}
