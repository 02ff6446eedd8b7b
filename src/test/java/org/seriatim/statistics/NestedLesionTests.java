package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

/**
 * Means and changes of lesions nested in patients: laws, and agreement with versions
 * written with whole matrices. Published values are in the reference cases.
 */
class NestedLesionTests {

	private static final int SETS = 200;

	private record Data(List<Clustered<Double>> values, List<double[]> x) {

		Covariates covariates() {
			return new Covariates(List.of("session", "layer"), this.x);
		}

	}

	private static Data data(long seed) {
		Random random = new Random(seed);
		List<Clustered<Double>> values = new ArrayList<>();
		List<double[]> x = new ArrayList<>();
		int patients = 4 + random.nextInt(8);
		for (int g = 0; g < patients; g++) {
			double level = 3 * random.nextGaussian();
			int lesions = 1 + random.nextInt(6);
			for (int i = 0; i < lesions || values.size() < 6; i++) {
				double[] row = { i + random.nextInt(2), random.nextDouble() };
				x.add(row);
				values.add(new Clustered<>("p" + g, 40 - 2 * row[0] + level + 2 * random.nextGaussian()));
			}
		}
		return new Data(values, x);
	}

	private static double[][] design(Data data) {
		double[][] x = new double[data.x().size()][3];
		for (int i = 0; i < x.length; i++) {
			x[i] = new double[] { 1, data.x().get(i)[0], data.x().get(i)[1] };
		}
		return x;
	}

	private static double[][] inverseProducts(double[][] x) {
		double[][] products = new double[x[0].length][x[0].length];
		for (double[] row : x) {
			for (int r = 0; r < row.length; r++) {
				for (int c = 0; c < row.length; c++) {
					products[r][c] += row[r] * row[c];
				}
			}
		}
		return SymmetricMatrix.inverse(SymmetricMatrix.cholesky(products).orElseThrow());
	}

	@Test
	void cr2AgreesWithTheRootOfTheWholeHatMatrix() {
		for (int seed = 0; seed < SETS; seed++) {
			Data data = data(seed);
			double[][] x = design(data);
			double[][] bread = inverseProducts(x);
			int n = x.length;
			double[] y = data.values().stream().mapToDouble(Clustered<Double>::value).toArray();
			double[] moments = new double[3];
			for (int i = 0; i < n; i++) {
				for (int j = 0; j < 3; j++) {
					moments[j] += x[i][j] * y[i];
				}
			}
			double[] beta = SymmetricMatrix.times(bread, moments);
			ClusterRobustRegression fit = ClusterRobustRegression.of(data.values(), data.covariates())
				.known()
				.orElseThrow();
			for (int j = 0; j < 3; j++) {
				double[] contrast = new double[3];
				contrast[j] = 1;
				double[] direction = SymmetricMatrix.times(bread, contrast);
				List<double[]> columns = new ArrayList<>();
				double variance = 0;
				for (String patient : data.values().stream().map(Clustered<Double>::patient).distinct().toList()) {
					List<Integer> rows = new ArrayList<>();
					for (int i = 0; i < n; i++) {
						if (data.values().get(i).patient().equals(patient)) {
							rows.add(i);
						}
					}
					double[] adjusted = adjusted(x, bread, rows, direction);
					double score = 0;
					double[] column = new double[n];
					for (int r = 0; r < rows.size(); r++) {
						int row = rows.get(r);
						score += adjusted[r] * (y[row] - SymmetricMatrix.dot(x[row], beta));
						for (int i = 0; i < n; i++) {
							column[i] += ((i == row ? 1 : 0) - SymmetricMatrix.form(x[i], bread, x[row])) * adjusted[r];
						}
					}
					variance += score * score;
					columns.add(column);
				}
				double trace = 0;
				double squares = 0;
				for (double[] a : columns) {
					trace += SymmetricMatrix.dot(a, a);
					for (double[] b : columns) {
						squares += SymmetricMatrix.dot(a, b) * SymmetricMatrix.dot(a, b);
					}
				}
				ClusterRobustRegression.Term term = fit.coefficients().get(j);
				assertThat(term.estimate()).as("seed %d", seed).isCloseTo(beta[j], within(1e-8));
				assertThat(term.standardError()).as("seed %d", seed).hasValueCloseTo(Math.sqrt(variance), within(1e-7));
				if (squares > 1e-12) {
					assertThat(term.degreesOfFreedom()).as("seed %d", seed)
						.hasValueCloseTo(trace * trace / squares, within(1e-6));
				}
			}
		}
	}

	/**
	 * (I - X B X')^(-1/2) X B c over the rows of one patient, from all its eigenvalues.
	 */
	private static double[] adjusted(double[][] x, double[][] bread, List<Integer> rows, double[] direction) {
		int k = rows.size();
		double[][] rest = new double[k][k];
		double[] plain = new double[k];
		for (int r = 0; r < k; r++) {
			plain[r] = SymmetricMatrix.dot(x[rows.get(r)], direction);
			for (int c = 0; c < k; c++) {
				rest[r][c] = ((r == c) ? 1 : 0) - SymmetricMatrix.form(x[rows.get(r)], bread, x[rows.get(c)]);
			}
		}
		double[][] vectors = new double[k][k];
		double[] values = SymmetricMatrix.eigenvalues(rest, vectors);
		double[] adjusted = new double[k];
		for (int e = 0; e < k; e++) {
			double part = 0;
			for (int r = 0; r < k; r++) {
				part += vectors[r][e] * plain[r];
			}
			for (int r = 0; r < k; r++) {
				adjusted[r] += (values[e] > 1e-9) ? vectors[r][e] * part / Math.sqrt(values[e]) : 0;
			}
		}
		return adjusted;
	}

	@Test
	void theMeanOfSingleLesionsHasTheUsualStandardError() {
		Random random = new Random(1);
		for (int set = 0; set < SETS; set++) {
			int n = 2 + random.nextInt(20);
			List<Clustered<Double>> values = new ArrayList<>();
			for (int i = 0; i < n; i++) {
				values.add(new Clustered<>("p" + i, random.nextGaussian()));
			}
			double mean = values.stream().mapToDouble(Clustered<Double>::value).average().orElseThrow();
			double squares = values.stream().mapToDouble((value) -> Math.pow(value.value() - mean, 2)).sum();
			var term = ClusterRobustRegression.mean(values).known().orElseThrow().coefficients().get(0);
			assertThat(term.estimate()).as("set %d", set).isCloseTo(mean, within(1e-12));
			assertThat(term.standardError()).as("set %d", set)
				.hasValueCloseTo(Math.sqrt(squares / (n - 1) / n), within(1e-12));
			assertThat(term.degreesOfFreedom()).as("set %d", set).hasValueCloseTo(n - 1.0, within(1e-8));
		}
	}

	@Test
	void shiftAndScaleOfValuesAndCovariatesCarryThrough() {
		for (int seed = 0; seed < SETS; seed++) {
			Data data = data(seed);
			List<Integer> order = new ArrayList<>();
			for (int i = 0; i < data.values().size(); i++) {
				order.add(i);
			}
			Collections.shuffle(order, new Random(seed));
			Data moved = new Data(
					order.stream()
						.map(data.values()::get)
						.map((value) -> new Clustered<>("x" + value.patient(), 1000 - 3 * value.value()))
						.toList(),
					order.stream().map(data.x()::get).map((x) -> new double[] { 10 * x[0] + 500, x[1] }).toList());
			var one = ClusterRobustRegression.of(data.values(), data.covariates()).known().orElseThrow();
			var other = ClusterRobustRegression.of(moved.values(), moved.covariates()).known().orElseThrow();
			var slope = one.coefficients().get(1);
			var movedSlope = other.coefficients().get(1);
			assertThat(-10.0 / 3 * movedSlope.estimate()).as("seed %d", seed).isCloseTo(slope.estimate(), within(1e-7));
			assertThat(10.0 / 3 * movedSlope.standardError().orElseThrow()).as("seed %d", seed)
				.isCloseTo(slope.standardError().orElseThrow(), within(1e-7));
			assertThat(movedSlope.degreesOfFreedom().orElseThrow()).as("seed %d", seed)
				.isCloseTo(slope.degreesOfFreedom().orElseThrow(), within(1e-5));
			if (RandomInterceptModel.ofPatients(data.values(),
					data.covariates()) instanceof Estimate.Known<RandomInterceptModel> known) {
				RandomInterceptModel mixed = RandomInterceptModel.ofPatients(moved.values(), moved.covariates())
					.known()
					.orElseThrow();
				assertThat(-10.0 / 3 * mixed.terms().get(1).estimate()).as("seed %d", seed)
					.isCloseTo(known.value().terms().get(1).estimate(), within(1e-5));
				assertThat(mixed.varianceResidual() / 9).as("seed %d", seed)
					.isCloseTo(known.value().varianceResidual(), within(1e-4 * known.value().varianceResidual()));
				assertThat(mixed.singular()).as("seed %d", seed).isEqualTo(known.value().singular());
			}
		}
	}

	/**
	 * The REML criterion with the covariance matrix of all measurements written out.
	 */
	private static double criterion(double[] y, double[][] x, String[] patients, String[] scars, double scar,
			double patient, double residual) {
		int n = y.length;
		double[][] v = new double[n][n];
		for (int r = 0; r < n; r++) {
			for (int c = 0; c < n; c++) {
				boolean same = patients[r].equals(patients[c]);
				v[r][c] = ((r == c) ? residual : 0) + (same ? patient : 0)
						+ ((same && scars[r].equals(scars[c])) ? scar : 0);
			}
		}
		double[][] factor = SymmetricMatrix.cholesky(v).orElseThrow();
		int p = x[0].length;
		double[][] products = new double[p][p];
		double[] moments = new double[p];
		for (int r = 0; r < p; r++) {
			double[] column = new double[n];
			for (int i = 0; i < n; i++) {
				column[i] = x[i][r];
			}
			double[] solved = SymmetricMatrix.solve(factor, column);
			moments[r] = SymmetricMatrix.dot(solved, y);
			for (int c = 0; c < p; c++) {
				for (int i = 0; i < n; i++) {
					products[r][c] += solved[i] * x[i][c];
				}
			}
		}
		double[][] productFactor = SymmetricMatrix.cholesky(products).orElseThrow();
		double[] beta = SymmetricMatrix.solve(productFactor, moments);
		double squares = SymmetricMatrix.dot(y, SymmetricMatrix.solve(factor, y)) - SymmetricMatrix.dot(beta, moments);
		return (n - p) * Math.log(2 * Math.PI) + SymmetricMatrix.logDeterminant(factor)
				+ SymmetricMatrix.logDeterminant(productFactor) + squares;
	}

	@Test
	void theMixedModelIsTheMinimumOfTheCriterionWrittenOut() {
		for (int seed = 0; seed < SETS; seed++) {
			Data data = data(seed);
			double[][] x = design(data);
			double[] y = data.values().stream().mapToDouble(Clustered<Double>::value).toArray();
			String[] patients = data.values().stream().map(Clustered<Double>::patient).toArray(String[]::new);
			String[] scars = new String[y.length];
			List<RandomInterceptModel.Measurement> measurements = new ArrayList<>();
			for (int i = 0; i < y.length; i++) {
				scars[i] = "s" + i % 2;
				measurements.add(new RandomInterceptModel.Measurement(patients[i], scars[i], y[i]));
			}
			if (RandomInterceptModel.ofPatients(data.values(),
					data.covariates()) instanceof Estimate.Known<RandomInterceptModel> known) {
				assertMinimum(known.value(), y, x, patients, scars, 0, seed);
			}
			if (RandomInterceptModel.ofScars(measurements,
					data.covariates()) instanceof Estimate.Known<RandomInterceptModel> known) {
				assertMinimum(known.value(), y, x, patients, scars, known.value().varianceScar().orElseThrow(), seed);
			}
		}
	}

	private static void assertMinimum(RandomInterceptModel fit, double[] y, double[][] x, String[] patients,
			String[] scars, double scar, long seed) {
		double patient = fit.variancePatient();
		double residual = fit.varianceResidual();
		double least = criterion(y, x, patients, scars, scar, patient, residual);
		assertThat(fit.criterion()).as("seed %d", seed).isCloseTo(least, within(1e-7));
		boolean nested = fit.varianceScar().isPresent();
		for (double step : new double[] { -0.05, 0.05 }) {
			double away = step * residual;
			assertThat(criterion(y, x, patients, scars, scar, patient, residual + away)).as("seed %d", seed)
				.isGreaterThan(least - 1e-7);
			assertThat(criterion(y, x, patients, scars, scar, Math.max(0, patient + away), residual))
				.as("seed %d", seed)
				.isGreaterThan(least - 1e-7);
			if (nested) {
				assertThat(criterion(y, x, patients, scars, Math.max(0, scar + away), patient, residual))
					.as("seed %d", seed)
					.isGreaterThan(least - 1e-7);
			}
		}
	}

	@Test
	void saysWhatIsMissing() {
		List<Clustered<Double>> one = List.of(new Clustered<>("a", 1.0), new Clustered<>("a", 2.0));
		assertThat(ClusterRobustRegression.mean(List.of()))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0));
		var single = ClusterRobustRegression.mean(one).known().orElseThrow().coefficients().get(0);
		assertThat(single.estimate()).isEqualTo(1.5);
		assertThat(single.standardError()).isEmpty();
		assertThat(single.limits(0.95)).isEmpty();
		assertThat(ClusterRobustRegression.of(one,
				new Covariates(List.of("x"), List.of(new double[] { 3 }, new double[] { 3 }))))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.COLLINEAR, 2));
		assertThat(RandomInterceptModel.ofPatients(one, Covariates.none(2)))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.TOO_FEW_CLUSTERS, 1));
		List<Clustered<Double>> singles = List.of(new Clustered<>("a", 1.0), new Clustered<>("b", 2.0),
				new Clustered<>("c", 4.0), new Clustered<>("d", 3.0));
		assertThat(RandomInterceptModel.ofPatients(singles, Covariates.none(4)))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.TOO_FEW_OBSERVATIONS, 4));
		List<Clustered<Double>> equal = List.of(new Clustered<>("a", 2.0), new Clustered<>("a", 2.0),
				new Clustered<>("b", 2.0), new Clustered<>("b", 2.0));
		assertThat(RandomInterceptModel.ofPatients(equal, Covariates.none(4)))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.NO_VARIATION, 4));
	}

	/**
	 * Equal measurements of a patient leave no residual variance to compare patients
	 * with, and as many patients as coefficients between them no variance of patients.
	 */
	@Test
	void makesUpNoVarianceThatTheDataDoNotTell() {
		List<Clustered<Double>> equalWithin = List.of(new Clustered<>("a", 1.0), new Clustered<>("a", 1.0),
				new Clustered<>("b", 2.0), new Clustered<>("b", 2.0), new Clustered<>("c", 5.0),
				new Clustered<>("c", 5.0));
		assertThat(RandomInterceptModel.ofPatients(equalWithin, Covariates.none(6)))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.NO_VARIATION, 6));
		List<Clustered<Double>> twoPatients = List.of(new Clustered<>("a", 1.0), new Clustered<>("a", 2.5),
				new Clustered<>("a", 1.5), new Clustered<>("b", 7.0), new Clustered<>("b", 8.2));
		Covariates arm = new Covariates(List.of("arm"), List.of(new double[] { 0 }, new double[] { 0 },
				new double[] { 0 }, new double[] { 1 }, new double[] { 1 }));
		RandomInterceptModel fit = RandomInterceptModel.ofPatients(twoPatients, arm).known().orElseThrow();
		assertThat(fit.singular()).isTrue();
		assertThat(fit.variancePatient()).isZero();
	}

	@Test
	void refusesBrokenInput() {
		List<Clustered<Double>> one = List.of(new Clustered<>("a", 1.0));
		assertThatIllegalArgumentException().isThrownBy(() -> ClusterRobustRegression.of(one, Covariates.none(2)));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> ClusterRobustRegression.mean(List.of(new Clustered<>("a", Double.NaN))));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> new RandomInterceptModel.Measurement("a", "s", Double.POSITIVE_INFINITY));
	}

}
