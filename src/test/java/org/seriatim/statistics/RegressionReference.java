package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;

import tools.jackson.databind.JsonNode;

/**
 * Regressions in the form of the reference cases.
 */
final class RegressionReference {

	private RegressionReference() {
	}

	static Map<String, ReferenceMethod> methods() {
		return Map.of("weibull_aft", RegressionReference::weibull, "cluster_robust", RegressionReference::clusterRobust,
				"random_intercept_reml", RegressionReference::patients, "nested_random_intercepts_reml",
				RegressionReference::scars);
	}

	private static Covariates covariates(JsonNode input, int rows) {
		JsonNode covariates = input.get("covariates");
		if (covariates == null || covariates.isNull()) {
			return Covariates.none(rows);
		}
		List<double[]> list = List.of(ReferenceValues.rows(input, "covariates"));
		int columns = list.isEmpty() ? ReferenceValues.elements(input, "names").size() : list.get(0).length;
		List<String> names = input.has("names") ? ReferenceValues.words(input, "names", columns)
				: IntStream.rangeClosed(1, columns).mapToObj((column) -> "x" + column).toList();
		return new Covariates(names, list);
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
				double[] x = ReferenceValues.doubles(point, "x");
				double from = ReferenceValues.number(point, "t0");
				double by = ReferenceValues.number(point, "d");
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

	private static Object clusterRobust(JsonNode input, JsonNode asked) {
		List<Clustered<Double>> values = values(input, "cluster");
		return ReferenceValues.describe(ClusterRobustRegression.of(values, covariates(input, values.size())), (fit) -> {
			var terms = fit.coefficients();
			return ReferenceValues.map("names", terms.stream().map(ClusterRobustRegression.Term::name).toList(),
					"coefficients", terms.stream().map(ClusterRobustRegression.Term::estimate).toList(), "clusters",
					fit.patients(), "n", fit.n(), "seCR0",
					terms.stream().map(ClusterRobustRegression.Term::errorCr0).toList(), "seCR1",
					terms.stream().map(ClusterRobustRegression.Term::errorCr1).toList(), "seCR1S",
					terms.stream().map(ClusterRobustRegression.Term::errorCr1s).toList(), "seCR2",
					terms.stream().map(ClusterRobustRegression.Term::standardError).toList(), "dfCR2",
					terms.stream().map(ClusterRobustRegression.Term::degreesOfFreedom).toList(), "pCR2",
					terms.stream().map(ClusterRobustRegression.Term::pValue).toList());
		});
	}

	private static List<Clustered<Double>> values(JsonNode input, String cluster) {
		double[] y = ReferenceValues.doubles(input, "y");
		List<String> clusters = ReferenceValues.words(input, cluster, y.length);
		List<Clustered<Double>> values = new ArrayList<>();
		for (int i = 0; i < y.length; i++) {
			values.add(new Clustered<>(clusters.get(i), y[i]));
		}
		return values;
	}

	private static Object patients(JsonNode input, JsonNode asked) {
		List<Clustered<Double>> values = values(input, "group");
		return ReferenceValues.describe(RandomInterceptModel.ofPatients(values, covariates(input, values.size())),
				RegressionReference::mixed);
	}

	private static Object scars(JsonNode input, JsonNode asked) {
		double[] y = ReferenceValues.doubles(input, "y");
		List<String> patients = ReferenceValues.words(input, "patient", y.length);
		List<String> units = ReferenceValues.words(input, "unit", y.length);
		List<RandomInterceptModel.Measurement> measurements = new ArrayList<>();
		for (int i = 0; i < y.length; i++) {
			measurements.add(new RandomInterceptModel.Measurement(patients.get(i), units.get(i), y[i]));
		}
		return ReferenceValues.describe(RandomInterceptModel.ofScars(measurements, covariates(input, y.length)),
				RegressionReference::mixed);
	}

	private static Object mixed(RandomInterceptModel fit) {
		var terms = fit.terms();
		return ReferenceValues.map("names", terms.stream().map(RandomInterceptModel.Term::name).toList(),
				"coefficients", terms.stream().map(RandomInterceptModel.Term::estimate).toList(), "stdErr",
				terms.stream().map(RandomInterceptModel.Term::standardError).toList(), "dfSatterthwaite",
				terms.stream().map(RandomInterceptModel.Term::degreesOfFreedom).toList(), "varIntercept",
				fit.variancePatient(), "varPatient", fit.variancePatient(), "varUnit", fit.varianceScar(),
				"varResidual", fit.varianceResidual(), "sdIntercept", Math.sqrt(fit.variancePatient()), "sdResidual",
				Math.sqrt(fit.varianceResidual()), "icc", fit.intraclassCorrelation(), "remlCriterion", fit.criterion(),
				"logLikelihoodReml", fit.logLikelihood(), "singular", fit.singular());
	}

}
