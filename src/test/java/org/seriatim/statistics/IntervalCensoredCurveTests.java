package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.LongStream;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

/**
 * Published values are in the reference cases; here are edges, laws and the agreement
 * with plain EM.
 */
class IntervalCensoredCurveTests {

	private static final double INFINITY = Double.POSITIVE_INFINITY;

	static LongStream seeds() {
		return LongStream.range(0, 300);
	}

	@Test
	void agreesWithPlainEmOnSixHundredDataSets() {
		for (long seed = 0; seed < 600; seed++) {
			List<DurationInterval> data = RandomDurations.dataSet(seed);
			SlowCurve slow = new SlowCurve(data, 30_000);
			IntervalCensoredCurve fast = curve(data);
			assertThat(fast.innermost()).as("innermost intervals, seed %d", seed)
				.extracting(Mass::left, Mass::right)
				.isEqualTo(slow.masses.stream()
					.map((mass) -> org.assertj.core.groups.Tuple.tuple(mass.left(), mass.right()))
					.toList());
			// neither may be further from the maximum than its certificate says
			double slack = 1e-9 * fast.n() + 1e-9;
			assertThat(slow.logLikelihood - fast.logLikelihood()).as("likelihood, seed %d", seed)
				.isLessThanOrEqualTo(fast.kuhnTuckerExcess() * fast.n() + slack);
			assertThat(fast.logLikelihood() - slow.logLikelihood).as("likelihood, seed %d", seed)
				.isLessThanOrEqualTo(slow.gap + slack);
			// where EM has not yet emptied an interval, only its likelihood can be
			// compared
			if (slow.gap < 1e-8 * fast.n()) {
				for (int j = 0; j < slow.masses.size(); j++) {
					assertThat(fast.innermost().get(j).mass()).as("mass %d, seed %d", j, seed)
						.isCloseTo(slow.masses.get(j).mass(), within(1e-3));
				}
			}
		}
	}

	@ParameterizedTest
	@MethodSource("seeds")
	void carriesItsCertificate(long seed) {
		IntervalCensoredCurve curve = curve(RandomDurations.dataSet(seed));
		assertThat(curve.kuhnTuckerExcess()).as("seed %d", seed).isLessThanOrEqualTo(1e-8);
		assertThat(curve.support().stream().mapToDouble(Mass::mass).sum()).as("seed %d", seed)
			.isCloseTo(1, within(1e-9));
	}

	@ParameterizedTest
	@MethodSource("seeds")
	void doesNotDependOnTheOrderOfTheObservations(long seed) {
		List<DurationInterval> data = RandomDurations.dataSet(seed);
		List<DurationInterval> shuffled = new ArrayList<>(data);
		Collections.shuffle(shuffled, new Random(seed));
		assertThat(curve(shuffled).innermost()).as("seed %d", seed).isEqualTo(curve(data).innermost());
	}

	@ParameterizedTest
	@MethodSource("seeds")
	void isTheSameWhetherEqualObservationsAreMergedOrNot(long seed) {
		List<DurationInterval> data = RandomDurations.dataSet(seed);
		List<DurationInterval> single = new ArrayList<>();
		for (DurationInterval observation : data) {
			for (int i = 0; i < observation.count(); i++) {
				single.add(new DurationInterval(observation.left(), observation.right()));
			}
		}
		assertThat(curve(single).innermost()).as("seed %d", seed).isEqualTo(curve(data).innermost());
		assertThat(curve(single).n()).as("seed %d", seed).isEqualTo(curve(data).n());
	}

	@ParameterizedTest
	@MethodSource("seeds")
	void moreOfTheSameChangesNothing(long seed) {
		List<DurationInterval> data = RandomDurations.dataSet(seed);
		List<DurationInterval> tripled = data.stream()
			.map((one) -> new DurationInterval(one.left(), one.right(), 3 * one.count()))
			.toList();
		assertSameMasses(curve(tripled).innermost(), curve(data).innermost(), 1, 0, seed);
	}

	@ParameterizedTest
	@MethodSource("seeds")
	void movesAndStretchesWithTheTimeScale(long seed) {
		List<DurationInterval> data = RandomDurations.dataSet(seed)
			.stream()
			// an interval from 0 is open to the left whatever is added
			.map((one) -> new DurationInterval(one.left() + 1, one.right() + 1, one.count()))
			.toList();
		List<DurationInterval> moved = data.stream()
			.map((one) -> new DurationInterval(8 * one.left() + 16, 8 * one.right() + 16, one.count()))
			.toList();
		assertSameMasses(curve(moved).innermost(), curve(data).innermost(), 8, 16, seed);
	}

	@ParameterizedTest
	@MethodSource("seeds")
	void observationsThatSayNothingChangeNothing(long seed) {
		List<DurationInterval> data = new ArrayList<>(RandomDurations.dataSet(seed));
		// beside something that ended exactly at 0, "after 0" does say something
		data.removeIf((one) -> one.isExact() && one.left() == 0);
		data.add(new DurationInterval(3, 5));
		List<DurationInterval> more = new ArrayList<>(data);
		more.add(new DurationInterval(0, INFINITY, 3));
		List<Mass> support = curve(more).support();
		assertSameMasses(support, curve(data).support(), 1, 0, seed);
	}

	@ParameterizedTest
	@MethodSource("seeds")
	void boundsOfTheShareFallOverTimeAndContainEachOther(long seed) {
		IntervalCensoredCurve curve = curve(RandomDurations.dataSet(seed));
		Bounds before = curve.survivalBounds(0);
		for (double time = 0; time < 90; time += 0.5) {
			Bounds now = curve.survivalBounds(time);
			assertThat(now.low()).as("seed %d, time %s", seed, time).isLessThanOrEqualTo(before.low() + 1e-12);
			assertThat(now.high()).as("seed %d, time %s", seed, time).isLessThanOrEqualTo(before.high() + 1e-12);
			before = now;
		}
		assertThat(curve.quantile(0.25).low()).isLessThanOrEqualTo(curve.median().low());
		assertThat(curve.median().high()).isLessThanOrEqualTo(curve.quantile(0.75).high());
	}

	@Test
	void reachesItsCertificateOnTwentyThousandLumpsWithTwoDecimals() {
		Random random = new Random(20261120);
		List<DurationInterval> data = new ArrayList<>();
		for (int i = 0; i < 20_000; i++) {
			double from = Math.round(100 * Math.exp(1.5 + random.nextGaussian())) / 100.0;
			double to = from + Math.round(100 * (0.5 + 7 * random.nextDouble())) / 100.0;
			data.add((random.nextInt(8) == 0) ? DurationInterval.longerThan(from) : new DurationInterval(from, to));
		}
		assertThat(curve(data).kuhnTuckerExcess()).isLessThanOrEqualTo(1e-8);
	}

	@Test
	void hasNoCurveWithoutObservations() {
		assertThat(IntervalCensoredCurve.of(List.of()))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0));
	}

	@Test
	void putsAllMassBeyondTheLastContactWhenNothingWasSeenGone() {
		IntervalCensoredCurve curve = curve(List.of(DurationInterval.longerThan(3), DurationInterval.longerThan(9)));
		assertThat(curve.support()).containsExactly(new Mass(9, INFINITY, 1));
		assertThat(curve.median()).isEqualTo(new Bounds(9, INFINITY));
	}

	@ParameterizedTest
	@CsvSource({ "-1, 2, 1", "3, 2, 1", "NaN, 2, 1", "1, NaN, 1", "Infinity, Infinity, 1", "1, 2, 0", "1, 2, -4" })
	void refusesWhatIsNoInterval(double left, double right, int count) {
		assertThatIllegalArgumentException().isThrownBy(() -> new DurationInterval(left, right, count));
	}

	@Test
	void refusesTimesAndLevelsThatDoNotExist() {
		IntervalCensoredCurve curve = curve(List.of(new DurationInterval(1, 2)));
		assertThatIllegalArgumentException().isThrownBy(() -> curve.survivalBounds(-1));
		assertThatIllegalArgumentException().isThrownBy(() -> curve.survivalBounds(Double.NaN));
		assertThatIllegalArgumentException().isThrownBy(() -> curve.quantile(0));
		assertThatIllegalArgumentException().isThrownBy(() -> curve.quantile(1));
		assertThatIllegalArgumentException().isThrownBy(() -> curve.quantile(Double.NaN));
	}

	private static void assertSameMasses(List<Mass> actual, List<Mass> expected, double factor, double shift,
			long seed) {
		assertThat(actual).as("seed %d", seed).hasSameSizeAs(expected);
		for (int j = 0; j < actual.size(); j++) {
			assertThat(actual.get(j).left()).as("seed %d", seed).isEqualTo(factor * expected.get(j).left() + shift);
			assertThat(actual.get(j).right()).as("seed %d", seed).isEqualTo(factor * expected.get(j).right() + shift);
			// the certificate is on the likelihood; where it is flat masses are known
			// less well
			assertThat(actual.get(j).mass()).as("seed %d", seed).isCloseTo(expected.get(j).mass(), within(1e-4));
		}
	}

	private static IntervalCensoredCurve curve(List<DurationInterval> data) {
		return IntervalCensoredCurve.of(data).known().orElseThrow();
	}

}
