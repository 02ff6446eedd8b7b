package org.seriatim.statistics;

import java.lang.reflect.RecordComponent;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Stream;

import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

/**
 * Every method on empty, single, equal, wholly censored, tiny, huge, infinite and
 * undefined input: it answers without NaN, or says that there is nothing to tell, or
 * refuses with an {@link IllegalArgumentException}; nothing else happens.
 */
class NoNumberIsMadeUpTests {

	private static final int RUNS = 400;

	/** Values that a form, a division or a broken file may deliver. */
	private static final double[] HOSTILE = { 0, -0.0, 1, 1, 1, 2, 3, 7, 0.5, -1, 1e-300, 1e300, 1e9, Double.MIN_VALUE,
			Double.MAX_VALUE, Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY };

	private static final double[] TAME = { 0, 1, 1, 1, 2, 3, 7, 0.5 };

	private final Map<String, Function<Hostile, Object>> methods = new TreeMap<>();

	NoNumberIsMadeUpTests() {
		this.methods.put("curve", (in) -> IntervalCensoredCurve.of(in.durations()));
		this.methods.put("curve's shares",
				(in) -> IntervalCensoredCurve.of(in.durations())
					.known()
					.map((curve) -> List.of(curve.survivalBounds(in.value()), curve.median(), curve.support())));
		this.methods.put("curve's masses", (in) -> {
			CurveMasses masses = new CurveMasses(in.integer(),
					in.list(() -> new Mass(in.value(), in.value(), in.value())));
			return List.of(masses.stillPresent(in.value()), masses.median(),
					masses.probabilityGoneBy(in.value(), in.value()),
					masses.firstDayGoneWith(in.value(), in.value(), in.integer()));
		});
		this.methods.put("curve's limits",
				(in) -> CurveBootstrap.limits(in.patients(), List.of(in.value()), new BootstrapPlan(1, 50, 0.9)));
		this.methods.put("bootstrap", (in) -> PatientBootstrap.limits(in.integer(),
				(drawn) -> OptionalDouble.of(in.constant()), new BootstrapPlan(1, 50, 0.9)));
		this.methods.put("quantile", (in) -> SampleQuantile.of(in.values(), in.value()));
		this.methods.put("percentile ranks", (in) -> PercentileLimits.ranks(in.integer(), in.value()));
		this.methods.put("smallest change", (in) -> SmallestDetectableChange
			.of(in.list(() -> new RatingPair(in.word(), in.value(), in.value())), in.integer(), in.integer()));
		this.methods.put("kaplan-meier",
				(in) -> KaplanMeier.of(in.eventTimes(), in.confidence())
					.known()
					.map((curve) -> List.of(curve.rows(), curve.median(), curve.quantile(0.25))));
		this.methods.put("log-rank", (in) -> LogRankTest
			.of(in.list(() -> new Grouped<>(in.word(), new EventTime(in.value(), in.flag()))), in.constant()));
		this.methods.put("score test",
				(in) -> IntervalScoreTest.of(
						in.durations().stream().map((duration) -> new Grouped<>(in.word(), duration)).toList(),
						in.choice(IntervalScoreTest.Scores.values())));
		this.methods.put("weibull", (in) -> {
			List<DurationInterval> durations = in.durations();
			return WeibullRegression
				.clustered(durations, in.covariates(durations.size()),
						durations.stream().map((d) -> in.word()).toList())
				.known()
				.map((fit) -> List.of(fit.coefficients(), fit.logScale(), fit.timeRatios(0.95),
						fit.clusteredTimeRatios(0.95), fit.likelihoodRatio(), fit.covariance()));
		});
		this.methods.put("proportion", (in) -> ProportionInterval.of(in.integer(), in.integer(), in.confidence()));
		this.methods.put("difference", (in) -> ProportionDifference.of(in.integer(), in.integer(), in.integer(),
				in.integer(), in.confidence()));
		this.methods.put("clustered proportion", (in) -> ClusteredProportion.of(in.counts(), in.confidence()));
		this.methods.put("rao-scott",
				(in) -> RaoScottTest.of(in.counts().stream().map((count) -> new Grouped<>(in.word(), count)).toList()));
		this.methods.put("adjusted p", (in) -> in.choice(MultipleTesting.values()).adjust(in.list(in::value)));
		this.methods.put("clustered mean", (in) -> ClusterRobustRegression.mean(in.clustered()));
		this.methods.put("clustered regression", (in) -> {
			List<Clustered<Double>> values = in.clustered();
			return ClusterRobustRegression.of(values, in.covariates(values.size()));
		});
		this.methods.put("random intercepts", (in) -> {
			List<Clustered<Double>> values = in.clustered();
			return RandomInterceptModel.ofPatients(values, in.covariates(values.size()));
		});
		this.methods.put("nested intercepts", (in) -> {
			var values = in.list(() -> new RandomInterceptModel.Measurement(in.word(), in.word(), in.value()));
			return RandomInterceptModel.ofScars(values, in.covariates(values.size()));
		});
		this.methods.put("ranks", (in) -> RankComparison.of(in.values(), in.values(), in.confidence()));
		this.methods.put("clustered ranks",
				(in) -> ClusteredRankSum.of(in.list(() -> new GroupedLesion(in.word(), in.flag(), in.value()))));
		this.methods.put("clustered index", (in) -> ClusteredProbabilisticIndex
			.of(in.list(() -> new GroupedLesion(in.word(), in.flag(), in.value())), in.confidence()));
		this.methods.put("kappa",
				(in) -> WeightedKappa.of(in.table(), in.choice(WeightedKappa.Weights.values()), in.confidence()));
		this.methods.put("intraclass correlation",
				(in) -> IntraclassCorrelation.of(in.list(in::values).toArray(double[][]::new), in.confidence()));
		this.methods.put("trend", (in) -> {
			double[] x = in.values();
			return TheilSenTrend.of(x, in.tameOrHostile(x.length), in.confidence());
		});
		this.methods.put("funnel", (in) -> FunnelLimits.exact(in.value(), in.integer()));
		this.methods.put("dispersion", (in) -> FunnelLimits.dispersion(in.counts(), in.value(), in.value()));
		this.methods.put("cusum", (in) -> {
			boolean[] events = new boolean[in.integer() & 7];
			return new BernoulliCusum(in.value(), in.value(), in.flag()).path(events, in.tameOrHostile(events.length));
		});
		this.methods
			.put("run length",
					(in) -> new BernoulliCusum(in.choice(2.0, 0.5, in.value()),
							in.choice(1.0, 2.0, in.value() > 5 ? 5.0 : in.value()), true)
						.inControlRunLength(in.value()));
		this.methods.put("individuals chart", (in) -> ControlChart.individuals(in.values()));
		this.methods.put("p chart", (in) -> ControlChart.proportions(in.counts()));
		this.methods.put("g chart",
				(in) -> ControlChart.casesBetween(in.list(in::integer).stream().mapToInt(Integer::intValue).toArray()));
	}

	@TestFactory
	Stream<DynamicTest> neither() {
		return this.methods.entrySet().stream().map((method) -> DynamicTest.dynamicTest(method.getKey(), () -> {
			int answered = 0;
			for (int seed = 0; seed < RUNS; seed++) {
				answered += answers(method.getValue(), seed) ? 1 : 0;
			}
			assertThat(answered).as("inputs that were accepted").isPositive();
		}));
	}

	private static boolean answers(Function<Hostile, Object> method, int seed) {
		Object result;
		try {
			result = method.apply(new Hostile(seed));
		}
		catch (IllegalArgumentException ex) {
			assertThat(ex.getMessage()).as("message, seed %d", seed).isNotBlank();
			return false;
		}
		catch (RuntimeException ex) {
			return fail("seed " + seed, ex);
		}
		requireNumbers(result, "seed " + seed);
		return true;
	}

	private static void requireNumbers(Object value, String where) {
		assertThat(value).as(where).isNotNull();
		if (value instanceof Double number) {
			assertThat(number).as(where).isNotNaN();
		}
		else if (value instanceof OptionalDouble optional) {
			optional.ifPresent((number) -> assertThat(number).as(where).isNotNaN());
		}
		else if (value instanceof Optional<?> optional) {
			optional.ifPresent((inner) -> requireNumbers(inner, where));
		}
		else if (value instanceof Collection<?> collection) {
			collection.forEach((element) -> requireNumbers(element, where));
		}
		else if (value instanceof Record) {
			for (RecordComponent component : value.getClass().getRecordComponents()) {
				try {
					component.getAccessor().setAccessible(true);
					// how far an iteration got before it gave up may be anything
					if (!(value instanceof Estimate.NotConverged)) {
						requireNumbers(component.getAccessor().invoke(value), where + " " + component.getName());
					}
				}
				catch (ReflectiveOperationException ex) {
					fail(where, ex);
				}
			}
		}
	}

	/**
	 * Inputs drawn from a seed: half of them of valid values only, so that degenerate
	 * shapes are reached, half with anything in them.
	 */
	private static final class Hostile {

		private final Random random;

		private final double[] pool;

		private final int size;

		private final double constant;

		Hostile(long seed) {
			this.random = new Random(seed);
			this.pool = (seed % 2 == 0) ? TAME : HOSTILE;
			this.size = this.random.nextInt((seed % 3 == 0) ? 3 : 9);
			this.constant = value();
		}

		double value() {
			return this.pool[this.random.nextInt(this.pool.length)];
		}

		double constant() {
			return this.constant;
		}

		double confidence() {
			return (this.random.nextInt(4) == 0) ? value() : 0.95;
		}

		int integer() {
			int[] integers = { 0, 1, 2, 3, 5, 10, 40, -1 };
			return integers[this.random.nextInt(integers.length)];
		}

		boolean flag() {
			return this.random.nextBoolean();
		}

		String word() {
			return "abc".substring(this.random.nextInt(3)).substring(0, 1);
		}

		@SafeVarargs
		final <T> T choice(T... choices) {
			return choices[this.random.nextInt(choices.length)];
		}

		<T> List<T> list(java.util.function.Supplier<T> element) {
			List<T> list = new ArrayList<>();
			for (int i = 0; i < this.size; i++) {
				list.add(element.get());
			}
			return list;
		}

		double[] values() {
			return list(this::value).stream().mapToDouble(Double::doubleValue).toArray();
		}

		double[] tameOrHostile(int length) {
			double[] values = new double[length];
			for (int i = 0; i < length; i++) {
				values[i] = value();
			}
			return values;
		}

		List<DurationInterval> durations() {
			boolean censored = this.random.nextInt(4) == 0;
			boolean equal = this.random.nextInt(4) == 0;
			double left = value();
			double right = value();
			return list(() -> new DurationInterval(equal ? left : value(),
					censored ? Double.POSITIVE_INFINITY : equal ? right : value()));
		}

		List<PatientDurations> patients() {
			List<PatientDurations> patients = new ArrayList<>();
			for (DurationInterval duration : durations()) {
				patients.add(new PatientDurations("p" + patients.size(), List.of(duration)));
			}
			return patients;
		}

		List<EventTime> eventTimes() {
			boolean censored = this.random.nextInt(4) == 0;
			return list(() -> new EventTime(value(), !censored && flag()));
		}

		List<EventCount> counts() {
			return list(() -> new EventCount(Math.min(integer(), 3), 1 + Math.max(2, integer())));
		}

		List<Clustered<Double>> clustered() {
			return list(() -> new Clustered<>(word(), value()));
		}

		Covariates covariates(int rows) {
			if (flag()) {
				return Covariates.none(rows);
			}
			List<double[]> list = new ArrayList<>();
			for (int i = 0; i < rows; i++) {
				list.add(new double[] { value() });
			}
			return new Covariates(List.of("x"), list);
		}

		int[][] table() {
			int[][] table = new int[this.size][this.size];
			for (int[] row : table) {
				for (int j = 0; j < row.length; j++) {
					row[j] = Math.max(flag() ? 0 : -1, integer());
				}
			}
			return table;
		}

	}

}
