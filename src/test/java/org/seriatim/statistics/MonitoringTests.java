package org.seriatim.statistics;

import java.util.Arrays;
import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

/**
 * Funnel limits, cumulative sums and control charts: laws and agreement. Published values
 * are in the reference cases.
 */
class MonitoringTests {

	private static final int SETS = 300;

	@Test
	void funnelLimitsAreOrderedAndCloseInOnTheTarget() {
		Random random = new Random(1);
		for (int set = 0; set < SETS; set++) {
			double target = 0.01 + 0.98 * random.nextDouble();
			int n = 30 + random.nextInt(300);
			FunnelLimits limits = FunnelLimits.exact(target, n);
			assertThat(limits.low998()).as("set %d", set).isLessThanOrEqualTo(limits.low95());
			assertThat(limits.high95()).as("set %d", set).isLessThanOrEqualTo(limits.high998());
			assertThat(limits.low95()).as("set %d", set).isLessThanOrEqualTo(target);
			assertThat(limits.high95()).as("set %d", set).isGreaterThanOrEqualTo(target);
			FunnelLimits larger = FunnelLimits.exact(target, 20 * n);
			assertThat(larger.high998() - larger.low998()).as("set %d", set)
				.isLessThan(limits.high998() - limits.low998() + 1e-12);
		}
	}

	@Test
	void theExactLimitInterpolatesTheDistribution() {
		// binomial with n = 2 and target 0.5: F = 0.25, 0.75, 1; level 0.975 lies between
		// 1 and 2
		assertThat(FunnelLimits.exact(0.5, 2).high95()).isCloseTo((2 - (1 - 0.975) / 0.25) / 2, within(1e-12));
		assertThat(FunnelLimits.exact(0.5, 2).low95()).isZero();
	}

	@Test
	void dispersionOfUnitsOnTheTargetIsNone() {
		FunnelLimits.Dispersion none = FunnelLimits
			.dispersion(List.of(new EventCount(5, 50), new EventCount(10, 100)), 0.1, 0.1)
			.known()
			.orElseThrow();
		assertThat(none.phi()).isCloseTo(0, within(1e-12));
		assertThat(none.used()).isEqualTo(1);
		assertThat(FunnelLimits.dispersion(List.of(), 0.1, 0.1).known()).isEmpty();
	}

	@Test
	void funnelRefusesTargetsAndSizesThatDoNotExist() {
		assertThatIllegalArgumentException().isThrownBy(() -> FunnelLimits.exact(0, 3));
		assertThatIllegalArgumentException().isThrownBy(() -> FunnelLimits.exact(Double.NaN, 3));
		assertThatIllegalArgumentException().isThrownBy(() -> FunnelLimits.exact(0.5, 0));
		assertThatIllegalArgumentException().isThrownBy(() -> FunnelLimits.dispersion(List.of(), 0.5, 0.5));
	}

	@Test
	void runLengthsAgreeWithAFineGrid() {
		for (double ratio : new double[] { 2, 0.5, 3 }) {
			for (double p : new double[] { 0.05, 0.2 }) {
				double exact = new BernoulliCusum(ratio, 2.2, true).inControlRunLength(p).known().orElseThrow();
				assertThat(exact).as("ratio %s, p %s", ratio, p)
					.isCloseTo(onGrid(ratio, 2.2, p, 4000), within(0.03 * exact));
			}
		}
	}

	/**
	 * Brook and Evans: the sum rounded to a grid, expected times to a signal by repeated
	 * substitution.
	 */
	private static double onGrid(double ratio, double threshold, double p, int states) {
		BernoulliCusum.Weight weight = BernoulliCusum.Weight.of(p, ratio);
		double width = threshold / states;
		double[] time = new double[states];
		for (int sweep = 0; sweep < 200_000; sweep++) {
			double change = 0;
			for (int i = states - 1; i >= 0; i--) {
				double next = 1 + p * at(time, i * width + weight.event(), width)
						+ (1 - p) * at(time, i * width + weight.noEvent(), width);
				change = Math.max(change, Math.abs(next - time[i]) / next);
				time[i] = next;
			}
			if (change < 1e-7) {
				break;
			}
		}
		return time[0];
	}

	private static double at(double[] time, double sum, double width) {
		int state = (int) Math.round(Math.max(0, sum) / width);
		return (state >= time.length) ? 0 : time[state];
	}

	@Test
	void runLengthsGrowWithTheThresholdAndShrinkWithTheShift() {
		double before = 0;
		for (double threshold = 0.5; threshold < 4; threshold += 0.25) {
			BernoulliCusum chart = new BernoulliCusum(2, threshold, true);
			double inControl = chart.inControlRunLength(0.1).known().orElseThrow();
			assertThat(inControl).isGreaterThanOrEqualTo(before - 1e-6);
			assertThat(chart.outOfControlRunLength(0.1).known().orElseThrow()).isLessThan(inControl);
			before = inControl;
		}
	}

	@Test
	void theThresholdIsTheSmallestThatKeepsItsPromise() {
		BernoulliCusum.Threshold found = BernoulliCusum.thresholdFor(0.1, 2, 300, 0.01).known().orElseThrow();
		assertThat(found.inControlRunLength()).isGreaterThanOrEqualTo(300);
		BernoulliCusum below = new BernoulliCusum(2, found.threshold() - 0.01, true);
		assertThat(below.inControlRunLength(0.1).known().orElseThrow()).isLessThan(300);
	}

	@Test
	void theSumNeverFallsBelowZeroAndSignalsOnlyAboveTheThreshold() {
		Random random = new Random(2);
		for (int set = 0; set < SETS; set++) {
			boolean[] events = new boolean[60];
			double[] expected = new double[60];
			for (int t = 0; t < 60; t++) {
				events[t] = random.nextInt(4) == 0;
				expected[t] = 0.05 + 0.3 * random.nextDouble();
			}
			BernoulliCusum.Path path = new BernoulliCusum(2, 1.5, set % 2 == 0).path(events, expected);
			for (int t = 0; t < 60; t++) {
				assertThat(path.statistic().get(t)).as("set %d", set).isNotNegative();
				assertThat(path.signals().contains(t + 1)).as("set %d", set).isEqualTo(path.statistic().get(t) >= 1.5);
			}
		}
	}

	@Test
	void cumulativeSumsRefuseWhatCannotBeMonitored() {
		assertThatIllegalArgumentException().isThrownBy(() -> new BernoulliCusum(1, 2, true));
		assertThatIllegalArgumentException().isThrownBy(() -> new BernoulliCusum(Double.NaN, 2, true));
		assertThatIllegalArgumentException().isThrownBy(() -> new BernoulliCusum(2, 0, true));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> new BernoulliCusum(2, 2, true).path(new boolean[1], new double[] { 1 }));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> new BernoulliCusum(2, 2, true).path(new boolean[2], new double[] { 0.5 }));
		assertThatIllegalArgumentException().isThrownBy(() -> BernoulliCusum.thresholdFor(0.1, 2, 0.5, 0.01));
		assertThatIllegalArgumentException().isThrownBy(() -> BernoulliCusum.thresholdFor(0.1, 2, 100, 0));
	}

	@Test
	void individualsHaveTheConstantsOfTheTables() {
		// mean 10, moving ranges 2, 4, 2, 4 with mean 3; table constants 2.660 and 3.267
		// for n = 2
		ControlChart.Individuals charts = ControlChart.individuals(new double[] { 9, 11, 7, 9, 13 })
			.known()
			.orElseThrow();
		ControlChart.Point point = charts.values().points().get(0);
		assertThat(charts.values().centre()).isCloseTo(9.8, within(1e-12));
		assertThat(charts.movingRanges().centre()).isCloseTo(3, within(1e-12));
		// 2.660 and 3.267 are printed to three decimals
		assertThat((point.high() - 9.8) / 3).isCloseTo(2.660, within(0.002));
		assertThat(charts.movingRanges().points().get(0).high() / 3).isCloseTo(3.267, within(0.0006));
		assertThat(charts.values().signals()).isEmpty();
	}

	@Test
	void aJumpIsASignal() {
		ControlChart.Individuals charts = ControlChart
			.individuals(new double[] { 5, 5.1, 4.9, 5, 5.1, 4.9, 5, 5.1, 4.9, 5, 8 })
			.known()
			.orElseThrow();
		assertThat(charts.values().signals()).containsExactly(11);
		assertThat(charts.movingRanges().signals()).containsExactly(10);
	}

	@Test
	void proportionsHaveLimitsOfTheirSize() {
		// p = 20/200 = 0.1; 3 sqrt(0.09/100) = 0.09; for n = 25: 0.18, cut at 0
		List<EventCount> periods = List.of(new EventCount(10, 100), new EventCount(7, 75), new EventCount(3, 25));
		ControlChart chart = ControlChart.proportions(periods).known().orElseThrow();
		assertThat(chart.centre()).isCloseTo(0.1, within(1e-12));
		assertThat(chart.points().get(0).low()).isCloseTo(0.01, within(1e-12));
		assertThat(chart.points().get(0).high()).isCloseTo(0.19, within(1e-12));
		assertThat(chart.points().get(2).low()).isZero();
		assertThat(chart.points().get(2).high()).isCloseTo(0.28, within(1e-12));
	}

	@Test
	void casesBetweenEventsHaveGeometricLimits() {
		// mean 8: 3 sqrt(8 * 9) = 25.455844
		ControlChart chart = ControlChart.casesBetween(new int[] { 4, 12, 8, 8 }).known().orElseThrow();
		assertThat(chart.centre()).isEqualTo(8);
		assertThat(chart.points().get(0).high()).isCloseTo(33.455844, within(1e-6));
		assertThat(chart.points().get(0).low()).isZero();
		assertThat(ControlChart.casesBetween(new int[] { 4 }).known()).isEmpty();
		assertThatIllegalArgumentException().isThrownBy(() -> ControlChart.casesBetween(new int[] { -1, 2 }));
	}

	@Test
	void chartsMoveWithTheirUnit() {
		Random random = new Random(4);
		for (int set = 0; set < SETS; set++) {
			double[] values = random.doubles(12).toArray();
			double[] moved = Arrays.stream(values).map((value) -> 3 + 10 * value).toArray();
			ControlChart one = ControlChart.individuals(values).known().orElseThrow().values();
			ControlChart other = ControlChart.individuals(moved).known().orElseThrow().values();
			assertThat(other.points().get(0).high()).as("set %d", set)
				.isCloseTo(3 + 10 * one.points().get(0).high(), within(1e-9));
			assertThat(other.signals()).as("set %d", set).isEqualTo(one.signals());
		}
	}

}
