package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

import tools.jackson.databind.JsonNode;

/**
 * Regressions in the form of the reference cases.
 */
final class RegressionReference {

	private RegressionReference() {
	}

	static Map<String, ReferenceMethod> methods() {
		return Map.of("weibull_aft", RegressionReference::weibull);
	}

	private static Covariates covariates(JsonNode input, int rows) {
		JsonNode names = input.get("names");
		JsonNode covariates = input.get("covariates");
		if (covariates == null || covariates.isNull()) {
			return Covariates.none(rows);
		}
		List<double[]> list = new ArrayList<>();
		covariates.forEach((row) -> list.add(ReferenceValues.doubles(row)));
		return new Covariates(ReferenceValues.words(names), list);
	}

	private static List<Double> estimates(List<Coefficient> coefficients) {
		return coefficients.stream().map(Coefficient::estimate).toList();
	}

	private static List<Double> errors(List<Coefficient> coefficients) {
		return coefficients.stream().map(Coefficient::standardError).toList();
	}

	private static Object weibull(JsonNode input, JsonNode asked) {
		List<DurationInterval> durations = ReferenceValues.intervals(input);
		Covariates covariates = covariates(input, durations.size());
		double confidence = ReferenceValues.confidence(input);
		return ReferenceValues.describe(WeibullRegression.of(durations, covariates), (fit) -> {
			var ratios = fit.timeRatios(confidence);
			var test = fit.likelihoodRatio();
			List<Object> predictions = new ArrayList<>();
			Optional.ofNullable(input.get("predictAt")).ifPresent((points) -> points.forEach((point) -> {
				double[] x = ReferenceValues.doubles(point.get("x"));
				double from = point.get("t0").doubleValue();
				double by = point.get("d").doubleValue();
				predictions.add(ReferenceValues.map("x", x, "t0", from, "d", by, "probability",
						fit.probabilityGoneBy(by, from, x), "median", fit.quantile(0.5, x)));
			}));
			return ReferenceValues.map("names", fit.coefficients().stream().map(Coefficient::name).toList(),
					"coefficients", estimates(fit.coefficients()), "stdErr", errors(fit.coefficients()), "logScale",
					fit.logScale().estimate(), "stdErrLogScale", fit.logScale().standardError(), "scale", fit.scale(),
					"shape", fit.shape(), "logLikelihood", fit.logLikelihood(), "covariance", fit.covariance(),
					"logLikelihoodInterceptOnly", test.map(WeibullRegression.LikelihoodRatio::interceptOnly),
					"lrChiSquare", test.map(WeibullRegression.LikelihoodRatio::chiSquare), "lrDf",
					test.map(WeibullRegression.LikelihoodRatio::degreesOfFreedom), "lrPValue",
					test.map(WeibullRegression.LikelihoodRatio::pValue), "timeRatio",
					ratios.stream().map(WeibullRegression.TimeRatio::estimate).toList(), "timeRatioLower",
					ratios.stream().map(WeibullRegression.TimeRatio::low).toList(), "timeRatioUpper",
					ratios.stream().map(WeibullRegression.TimeRatio::high).toList(), "predictions", predictions);
		});
	}

}
