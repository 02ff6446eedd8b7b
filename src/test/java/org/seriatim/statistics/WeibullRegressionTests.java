package org.seriatim.statistics;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.function.Function;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

/**
 * Published values are in the reference cases; here are edges, laws and agreement with
 * derivatives taken numerically from a likelihood written on the scale of survival.
 */
class WeibullRegressionTests {

	private static final int SETS = 120;

	private record Data(List<DurationInterval> durations, List<double[]> x, List<String> patients) {

		Covariates covariates() {
			return new Covariates(List.of("layer", "volume"), this.x);
		}

	}

	/**
	 * All four kinds of censoring, two covariates, three lumps a patient.
	 */
	private static Data data(long seed, int n) {
		Random random = new Random(seed);
		List<DurationInterval> durations = new ArrayList<>();
		List<double[]> x = new ArrayList<>();
		List<String> patients = new ArrayList<>();
		double frailty = 0;
		for (int i = 0; i < n; i++) {
			frailty = (i % 3 == 0) ? 0.4 * random.nextGaussian() : frailty;
			double[] row = { random.nextInt(2), random.nextDouble() };
			double time = Math
				.exp(2 + 0.5 * row[0] - row[1] + frailty + 0.7 * Math.log(-Math.log(1 - random.nextDouble())));
			double kind = random.nextDouble();
			double before = Math.floor(time);
			if (kind < 0.2) {
				durations.add(DurationInterval.exactly(time));
			}
			else if (kind < 0.35) {
				durations.add(DurationInterval.longerThan(0.7 * time));
			}
			else if (kind < 0.5) {
				durations.add(new DurationInterval(0, 1.5 * time));
			}
			else {
				durations.add(new DurationInterval(before, before + 1));
			}
			x.add(row);
			patients.add("p" + i / 3);
		}
		return new Data(durations, x, patients);
	}

	private static double logLikelihood(Data data, double[] b) {
		double sum = 0;
		for (int i = 0; i < data.durations().size(); i++) {
			DurationInterval one = data.durations().get(i);
			double mu = b[0] + b[1] * data.x().get(i)[0] + b[2] * data.x().get(i)[1];
			double k = Math.exp(-b[3]);
			double left = Math.exp(-Math.pow(one.left() / Math.exp(mu), k));
			double right = one.isRightCensored() ? 0 : Math.exp(-Math.pow(one.right() / Math.exp(mu), k));
			double density = k / one.left() * Math.pow(one.left() / Math.exp(mu), k) * left;
			sum += one.count() * Math.log(one.isExact() ? density : left - right);
		}
		return sum;
	}

	@Test
	void theMaximumIsOneAndItsInformationIsTheCurvatureThere() {
		for (int seed = 0; seed < SETS; seed++) {
			Data data = data(seed, 60);
			WeibullRegression fit = fit(data);
			double[] b = new double[4];
			for (int j = 0; j < 3; j++) {
				b[j] = fit.coefficients().get(j).estimate();
			}
			b[3] = fit.logScale().estimate();
			assertThat(fit.logLikelihood()).as("seed %d", seed).isCloseTo(logLikelihood(data, b), within(1e-8));
			double[][] information = new double[4][4];
			for (int r = 0; r < 4; r++) {
				double slope = (shifted(data, b, r, 1e-5, r, 0) - shifted(data, b, r, -1e-5, r, 0)) / 2e-5;
				assertThat(slope).as("slope %d, seed %d", r, seed).isCloseTo(0, within(1e-4));
				for (int c = 0; c < 4; c++) {
					double h = 1e-3;
					information[r][c] = -(shifted(data, b, r, h, c, h) - shifted(data, b, r, h, c, -h)
							- shifted(data, b, r, -h, c, h) + shifted(data, b, r, -h, c, -h)) / (4 * h * h);
				}
			}
			double[][] inverse = SymmetricMatrix.inverse(SymmetricMatrix.cholesky(information).orElseThrow());
			for (int r = 0; r < 4; r++) {
				double variance = fit.covariance().get(r).get(r);
				assertThat(variance).as("variance %d, seed %d", r, seed)
					.isCloseTo(inverse[r][r], within(1e-3 * variance));
			}
		}
	}

	private static double shifted(Data data, double[] b, int r, double by, int c, double more) {
		double[] at = b.clone();
		at[r] += by;
		at[c] += more;
		return logLikelihood(data, at);
	}

	@Test
	void aLongerUnitOfTimeMovesTheInterceptOnly() {
		for (int seed = 0; seed < SETS; seed++) {
			Data data = data(seed, 45);
			Data weeks = new Data(data.durations()
				.stream()
				.map((one) -> new DurationInterval(7 * one.left(), 7 * one.right(), one.count()))
				.toList(), data.x(), data.patients());
			WeibullRegression one = fit(data);
			WeibullRegression other = fit(weeks);
			assertThat(other.coefficients().get(0).estimate()).as("seed %d", seed)
				.isCloseTo(one.coefficients().get(0).estimate() + Math.log(7), within(1e-6));
			assertThat(other.coefficients().get(1).estimate()).as("seed %d", seed)
				.isCloseTo(one.coefficients().get(1).estimate(), within(1e-6));
			assertThat(other.scale()).as("seed %d", seed).isCloseTo(one.scale(), within(1e-6));
			assertThat(other.quantile(0.5, 1, 0.2)).as("seed %d", seed)
				.isCloseTo(7 * one.quantile(0.5, 1, 0.2), within(1e-4));
		}
	}

	@Test
	void aCovariateInAnotherUnitChangesItsCoefficientOnly() {
		for (int seed = 0; seed < SETS; seed++) {
			Data data = data(seed, 45);
			Data scaled = new Data(data.durations(),
					data.x().stream().map((x) -> new double[] { x[0], 100 * x[1] + 3 }).toList(), data.patients());
			WeibullRegression one = fit(data);
			WeibullRegression other = fit(scaled);
			assertThat(100 * other.coefficients().get(2).estimate()).as("seed %d", seed)
				.isCloseTo(one.coefficients().get(2).estimate(), within(1e-6));
			assertThat(other.logLikelihood()).as("seed %d", seed).isCloseTo(one.logLikelihood(), within(1e-8));
			assertThat(other.likelihoodRatio().orElseThrow().chiSquare()).as("seed %d", seed)
				.isCloseTo(one.likelihoodRatio().orElseThrow().chiSquare(), within(1e-6));
		}
	}

	@Test
	void orderAndMergingDoNotMatter() {
		for (int seed = 0; seed < SETS; seed++) {
			Data data = data(seed, 45);
			List<Integer> order = new ArrayList<>();
			for (int i = 0; i < 45; i++) {
				order.add(i);
				order.add(i);
			}
			Collections.shuffle(order, new Random(seed));
			WeibullRegression twice = WeibullRegression
				.clustered(order.stream().map(data.durations()::get).toList(),
						new Covariates(List.of("layer", "volume"), order.stream().map(data.x()::get).toList()),
						order.stream().map(data.patients()::get).toList())
				.known()
				.orElseThrow();
			WeibullRegression counted = WeibullRegression.clustered(
					data.durations().stream().map((one) -> new DurationInterval(one.left(), one.right(), 2)).toList(),
					data.covariates(), data.patients())
				.known()
				.orElseThrow();
			WeibullRegression once = fit(data);
			for (int j = 0; j < 3; j++) {
				assertThat(twice.coefficients().get(j).estimate()).as("seed %d", seed)
					.isCloseTo(once.coefficients().get(j).estimate(), within(1e-6));
				assertThat(counted.coefficients().get(j).standardError()).as("seed %d", seed)
					.isCloseTo(twice.coefficients().get(j).standardError(), within(1e-6));
				// what a patient tells is not more for being written down twice
				assertThat(twice.clusteredCoefficients().orElseThrow().get(j).standardError()).as("seed %d", seed)
					.isCloseTo(once.clusteredCoefficients().orElseThrow().get(j).standardError(), within(1e-6));
			}
		}
	}

	/**
	 * R 4.2.2, survival 3.5-3, on the 6-MP data with made-up patients of four
	 * neighbouring rows each:
	 * {@code survreg(Surv(time, event) ~ (group == "placebo"), cluster =
	 * (seq_along(time) - 1) %/% 4, dist = "weibull", control =
	 * survreg.control(rel.tolerance = 1e-12))}, {@code sqrt(diag(fit$var))}.
	 */
	@Test
	void theUncorrectedSandwichOfRightCensoredTimesIsThatOfR() throws Exception {
		WeibullRegression fit = fit("freireich-6mp.csv", "placebo", (cells) -> {
			double time = Double.parseDouble(cells[0]);
			return cells[1].equals("1") ? DurationInterval.exactly(time) : DurationInterval.longerThan(time);
		});
		assertErrors(fit, 0.277292395442, 0.297101721960);
	}

	/**
	 * The same of the breast cosmesis data, but with the scores of the patients taken
	 * numerically in R: in survival 3.5-3 the residuals from which {@code fit$var} is
	 * made (0.1323, 0.1561) are not the derivatives of the log-likelihood where a row is
	 * an interval; on right- and left-censored rows they are.
	 */
	@Test
	void theUncorrectedSandwichOfIntervalsIsThatOfNumericalScores() throws Exception {
		WeibullRegression fit = fit("breast-cosmesis.csv", "radiotherapy+chemotherapy",
				(cells) -> new DurationInterval(Double.parseDouble(cells[0]),
						cells[1].isEmpty() ? Double.POSITIVE_INFINITY : Double.parseDouble(cells[1])));
		assertErrors(fit, 0.117394711837, 0.152003171396);
	}

	private static void assertErrors(WeibullRegression fit, double intercept, double group) {
		List<Coefficient> plain = fit.uncorrectedCoefficients().orElseThrow();
		assertThat(plain.get(0).standardError()).isCloseTo(intercept, within(1e-8));
		assertThat(plain.get(1).standardError()).isCloseTo(group, within(1e-8));
		// the correction adds, and not much with this many patients
		assertThat(fit.clusteredCoefficients().orElseThrow().get(1).standardError()).isBetween(group, 1.2 * group);
	}

	private static WeibullRegression fit(String name, String group, Function<String[], DurationInterval> read)
			throws Exception {
		List<DurationInterval> durations = new ArrayList<>();
		List<double[]> x = new ArrayList<>();
		List<String> patients = new ArrayList<>();
		var file = Path.of(WeibullRegressionTests.class.getResource("/reference/datasets/" + name).toURI());
		List<String> lines = Files.readAllLines(file);
		for (String line : lines.subList(1, lines.size())) {
			String[] cells = line.split(",");
			patients.add("p" + durations.size() / 4);
			durations.add(read.apply(cells));
			x.add(new double[] { cells[2].equals(group) ? 1 : 0 });
		}
		return WeibullRegression.clustered(durations, new Covariates(List.of("group"), x), patients)
			.known()
			.orElseThrow();
	}

	@Test
	void probabilitiesAreThoseOfAWaitingTime() {
		WeibullRegression fit = fit(data(1, 60));
		double[] x = { 1, 0.5 };
		assertThat(fit.probabilityGoneBy(fit.quantile(0.3, x), 0, x)).isCloseTo(0.3, within(1e-12));
		double before = 1 - fit.probabilityGoneBy(5, 0, x);
		double later = 1 - fit.probabilityGoneBy(9, 5, x);
		assertThat(before * later).isCloseTo(1 - fit.probabilityGoneBy(9, 0, x), within(1e-12));
		assertThat(fit.probabilityGoneBy(5, 9, x)).isZero();
	}

	@Test
	void narrowIntervalsApproachExactTimes() {
		for (int seed = 0; seed < SETS; seed++) {
			Random random = new Random(seed);
			List<DurationInterval> exact = new ArrayList<>();
			List<DurationInterval> narrow = new ArrayList<>();
			for (int i = 0; i < 30; i++) {
				double time = 1 + 20 * random.nextDouble();
				exact.add(DurationInterval.exactly(time));
				narrow.add(new DurationInterval(time * (1 - 5e-10), time * (1 + 5e-10)));
			}
			WeibullRegression one = WeibullRegression.of(exact, Covariates.none(30)).known().orElseThrow();
			WeibullRegression other = WeibullRegression.of(narrow, Covariates.none(30)).known().orElseThrow();
			assertThat(other.scale()).as("seed %d", seed).isCloseTo(one.scale(), within(1e-6));
			assertThat(other.logScale().standardError()).as("seed %d", seed)
				.isCloseTo(one.logScale().standardError(), within(1e-6));
		}
	}

	@Test
	void saysWhatIsMissing() {
		assertReason(Estimate.Reason.NO_OBSERVATIONS, List.of());
		assertReason(Estimate.Reason.NO_OBSERVATIONS, List.of(new DurationInterval(0, Double.POSITIVE_INFINITY)));
		assertReason(Estimate.Reason.NO_EVENTS, List.of(DurationInterval.longerThan(3)));
		assertReason(Estimate.Reason.SEPARATION, List.of(new DurationInterval(0, 4), new DurationInterval(0, 6)));
		assertReason(Estimate.Reason.SEPARATION, List.of(new DurationInterval(2, 4), new DurationInterval(3, 9)));
		assertReason(Estimate.Reason.SEPARATION, List.of(DurationInterval.exactly(4), new DurationInterval(3, 9)));
	}

	private static void assertReason(Estimate.Reason reason, List<DurationInterval> durations) {
		assertThat(WeibullRegression.of(durations, Covariates.none(durations.size()))).isInstanceOfSatisfying(
				Estimate.NotEstimable.class, (missing) -> assertThat(missing.reason()).isEqualTo(reason));
	}

	@Test
	void aGroupThatNeverEndsSeparates() {
		List<DurationInterval> durations = new ArrayList<>();
		List<double[]> x = new ArrayList<>();
		for (int i = 0; i < 20; i++) {
			durations.add((i < 10) ? new DurationInterval(i + 1, i + 2) : DurationInterval.longerThan(12));
			x.add(new double[] { (i < 10) ? 0 : 1 });
		}
		assertThat(WeibullRegression.of(durations, new Covariates(List.of("group"), x))).isInstanceOfSatisfying(
				Estimate.NotEstimable.class,
				(missing) -> assertThat(missing.reason()).isEqualTo(Estimate.Reason.SEPARATION));
	}

	@Test
	void groupsOfEqualTimesSeparate() {
		List<DurationInterval> durations = new ArrayList<>();
		List<double[]> x = new ArrayList<>();
		for (int i = 0; i < 10; i++) {
			durations.add(DurationInterval.exactly((i < 5) ? 3 : 8));
			x.add(new double[] { (i < 5) ? 0 : 1 });
		}
		assertThat(WeibullRegression.of(durations, new Covariates(List.of("group"), x)).known()).isEmpty();
	}

	@Test
	void dependentCovariatesAreTold() {
		Data data = data(3, 30);
		List<double[]> doubled = data.x().stream().map((x) -> new double[] { x[0], 2 * x[0] + 1 }).toList();
		List<double[]> constant = data.x().stream().map((x) -> new double[] { x[0], 4 }).toList();
		for (List<double[]> x : List.of(doubled, constant)) {
			assertThat(WeibullRegression.of(data.durations(), new Covariates(List.of("a", "b"), x)))
				.isEqualTo(Estimate.notEstimable(Estimate.Reason.COLLINEAR, 30));
		}
	}

	@Test
	void clusteredLimitsNeedMorePatientsThanCoefficients() {
		Data data = data(5, 60);
		List<String> three = data.patients().stream().map((patient) -> "p" + patient.hashCode() % 3).toList();
		WeibullRegression fit = WeibullRegression.clustered(data.durations(), data.covariates(), three)
			.known()
			.orElseThrow();
		assertThat(fit.patients()).isLessThanOrEqualTo(3);
		assertThat(fit.clusteredTimeRatios(0.95)).isEmpty();
		assertThat(
				WeibullRegression.of(data.durations(), data.covariates()).known().orElseThrow().clusteredCoefficients())
			.isEmpty();
	}

	@Test
	void refusesBrokenInput() {
		Data data = data(5, 9);
		assertThatIllegalArgumentException()
			.isThrownBy(() -> WeibullRegression.of(List.of(DurationInterval.exactly(0)), Covariates.none(1)));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> WeibullRegression.of(data.durations(), Covariates.none(3)));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> WeibullRegression.clustered(data.durations(), data.covariates(), List.of("p")));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> new Covariates(List.of("a"), List.of(new double[] { Double.NaN })));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> new Covariates(List.of("a"), List.of(new double[] { 1, 2 })));
		WeibullRegression fit = fit(data(5, 60));
		assertThatIllegalArgumentException().isThrownBy(() -> fit.quantile(0.5, 1));
		assertThatIllegalArgumentException().isThrownBy(() -> fit.quantile(1, 1, 1));
		assertThatIllegalArgumentException().isThrownBy(() -> fit.probabilityGoneBy(-1, 0, 1, 1));
		assertThatIllegalArgumentException().isThrownBy(() -> fit.probabilityGoneBy(1, Double.NaN, 1, 1));
	}

	private static WeibullRegression fit(Data data) {
		return WeibullRegression.clustered(data.durations(), data.covariates(), data.patients()).known().orElseThrow();
	}

}
