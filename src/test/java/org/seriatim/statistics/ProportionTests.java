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
 * Proportions, plain and of nested lesions, and adjustment for several tests: laws and
 * agreement. Published values are in the reference cases.
 */
class ProportionTests {

	@Test
	void wilsonLimitsSolveTheScoreEquation() {
		double z = 1.959963984540054;
		for (int n = 1; n <= 40; n++) {
			for (int x = 0; x <= n; x++) {
				Bounds limits = ProportionInterval.of(x, n, 0.95).wilson().orElseThrow();
				for (double limit : new double[] { limits.low(), limits.high() }) {
					double distance = (double) x / n - limit;
					assertThat(distance * distance).as("%d of %d", x, n)
						.isCloseTo(z * z * limit * (1 - limit) / n, within(1e-12));
				}
			}
		}
	}

	@Test
	void clopperPearsonLimitsLeaveExactlyTheTailsOutside() {
		for (int n = 1; n <= 30; n++) {
			for (int x = 0; x <= n; x++) {
				Bounds limits = ProportionInterval.of(x, n, 0.9).clopperPearson().orElseThrow();
				if (x > 0) {
					assertThat(tail(n, x, n, limits.low())).as("%d of %d", x, n).isCloseTo(0.05, within(1e-10));
				}
				if (x < n) {
					assertThat(tail(n, 0, x, limits.high())).as("%d of %d", x, n).isCloseTo(0.05, within(1e-10));
				}
			}
		}
	}

	private static double tail(int n, int from, int to, double p) {
		double sum = 0;
		for (int k = from; k <= to; k++) {
			double term = Math.pow(p, k) * Math.pow(1 - p, n - k);
			for (int i = 0; i < k; i++) {
				term *= (double) (n - i) / (k - i);
			}
			sum += term;
		}
		return sum;
	}

	@Test
	void countingTheOthersMirrorsTheLimits() {
		for (int n = 1; n <= 40; n++) {
			for (int x = 0; x <= n; x++) {
				ProportionInterval one = ProportionInterval.of(x, n, 0.95);
				ProportionInterval other = ProportionInterval.of(n - x, n, 0.95);
				assertThat(other.wilson().orElseThrow().low()).isCloseTo(1 - one.wilson().orElseThrow().high(),
						within(1e-12));
				assertThat(other.clopperPearson().orElseThrow().low())
					.isCloseTo(1 - one.clopperPearson().orElseThrow().high(), within(1e-10));
			}
		}
	}

	@Test
	void aDifferenceChangesItsSignWithTheGroups() {
		Random random = new Random(1);
		for (int set = 0; set < 300; set++) {
			int n1 = 1 + random.nextInt(30);
			int n2 = 1 + random.nextInt(30);
			int x1 = random.nextInt(n1 + 1);
			int x2 = random.nextInt(n2 + 1);
			ProportionDifference one = ProportionDifference.of(x1, n1, x2, n2, 0.95).orElseThrow();
			ProportionDifference other = ProportionDifference.of(x2, n2, x1, n1, 0.95).orElseThrow();
			assertThat(other.limits().low()).as("set %d", set).isCloseTo(-one.limits().high(), within(1e-12));
			assertThat(one.difference()).as("set %d", set).isBetween(one.limits().low(), one.limits().high());
		}
		assertThat(ProportionDifference.of(0, 0, 1, 2, 0.95)).isEmpty();
	}

	@Test
	void onePatientEachHasTheDesignEffectOfItsDivisor() {
		// v = n/(n-1) p(1-p)/n, so the design effect is n/(n-1)
		List<EventCount> patients = new ArrayList<>(Collections.nCopies(3, new EventCount(1, 1)));
		patients.addAll(Collections.nCopies(7, new EventCount(0, 1)));
		ClusteredProportion proportion = ClusteredProportion.of(patients, 0.95);
		assertThat(proportion.designEffect()).hasValueCloseTo(10.0 / 9, within(1e-12));
		assertThat(proportion.effectiveSize()).hasValueCloseTo(9.0, within(1e-12));
	}

	@Test
	void patientsWhoAgreeWithThemselvesCountOnceEach() {
		// m patients with k equal lesions: the effective size is that of m lesions
		for (int k = 2; k < 9; k++) {
			List<EventCount> nested = new ArrayList<>();
			List<EventCount> single = new ArrayList<>();
			for (int i = 0; i < 12; i++) {
				nested.add(new EventCount((i < 4) ? k : 0, k));
				single.add(new EventCount((i < 4) ? 1 : 0, 1));
			}
			Bounds one = ClusteredProportion.of(nested, 0.95).limits().orElseThrow();
			Bounds other = ClusteredProportion.of(single, 0.95).limits().orElseThrow();
			assertThat(one.low()).isCloseTo(other.low(), within(1e-12));
			assertThat(one.high()).isCloseTo(other.high(), within(1e-12));
		}
	}

	@Test
	void clusteredLimitsIgnoreOrderMirrorAndAreNeverNarrowerThanPlainOnes() {
		Random random = new Random(2);
		for (int set = 0; set < 300; set++) {
			List<EventCount> patients = new ArrayList<>();
			for (int i = 0; i < 2 + random.nextInt(12); i++) {
				int n = 1 + random.nextInt(8);
				patients.add(new EventCount(random.nextInt(n + 1), n));
			}
			ClusteredProportion one = ClusteredProportion.of(patients, 0.95);
			List<EventCount> others = new ArrayList<>(
					patients.stream().map((count) -> new EventCount(count.n() - count.events(), count.n())).toList());
			Bounds mirrored = ClusteredProportion.of(others, 0.95).limits().orElseThrow();
			assertThat(mirrored.low()).as("set %d", set).isCloseTo(1 - one.limits().orElseThrow().high(), within(1e-9));
			Collections.shuffle(patients, random);
			assertThat(ClusteredProportion.of(patients, 0.95)).as("set %d", set).isEqualTo(one);
			Bounds plain = ProportionInterval.of((int) one.events(), (int) one.total(), 0.95).wilson().orElseThrow();
			assertThat(one.limits().orElseThrow().high() - one.limits().orElseThrow().low()).as("set %d", set)
				.isGreaterThanOrEqualTo(plain.high() - plain.low() - 1e-12);
		}
	}

	@Test
	void fewerThanTwoPatientsHaveNoLimits() {
		assertThat(ClusteredProportion.of(List.of(), 0.95).proportion()).isEmpty();
		ClusteredProportion one = ClusteredProportion.of(List.of(new EventCount(2, 7)), 0.95);
		assertThat(one.proportion()).hasValueCloseTo(2.0 / 7, within(1e-15));
		assertThat(one.limits()).isEmpty();
		assertThat(one.effectiveSize()).isEmpty();
	}

	@Test
	void raoScottSaysWhatIsMissing() {
		Grouped<EventCount> some = new Grouped<>("a", new EventCount(1, 3));
		Grouped<EventCount> more = new Grouped<>("a", new EventCount(2, 3));
		Grouped<EventCount> none = new Grouped<>("b", new EventCount(0, 3));
		assertThat(RaoScottTest.of(List.of(some, more)))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.TOO_FEW_GROUPS, 1));
		assertThat(RaoScottTest.of(List.of(some, more, none)))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.TOO_FEW_CLUSTERS, 1));
		assertThat(RaoScottTest.of(List.of(some, more, none, none)))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.NO_VARIATION, 6));
		assertThat(RaoScottTest.of(List.of(some, some, none, none)).known()).isEmpty();
	}

	@Test
	void raoScottWithTwoGroupsIsTheSquareOfAStandardisedDifference() {
		Random random = new Random(4);
		for (int set = 0; set < 300; set++) {
			List<Grouped<EventCount>> patients = new ArrayList<>();
			for (int i = 0; i < 16; i++) {
				int n = 2 + random.nextInt(6);
				patients.add(new Grouped<>("g" + i % 2, new EventCount(random.nextInt(n + 1), n)));
			}
			RaoScottTest test = RaoScottTest.of(patients).known().orElseThrow();
			double difference = test.proportions().get(0).proportion().orElseThrow()
					- test.proportions().get(1).proportion().orElseThrow();
			double variance = test.pooled() * (1 - test.pooled())
					* (1 / test.effectiveSizes().get(0) + 1 / test.effectiveSizes().get(1));
			assertThat(test.chiSquare()).as("set %d", set).isCloseTo(difference * difference / variance, within(1e-9));
		}
	}

	@Test
	void adjustedValuesFollowTheirDefinition() {
		Random random = new Random(3);
		for (int set = 0; set < 300; set++) {
			List<Double> p = new ArrayList<>();
			for (int i = 0; i < 1 + random.nextInt(12); i++) {
				p.add(Math.round(20 * Math.pow(random.nextDouble(), 2)) / 20.0);
			}
			List<Double> sorted = p.stream().sorted().toList();
			int m = p.size();
			List<Double> holm = MultipleTesting.HOLM.adjust(p);
			List<Double> screen = MultipleTesting.BENJAMINI_HOCHBERG.adjust(p);
			List<Double> plain = MultipleTesting.BONFERRONI.adjust(p);
			for (int i = 0; i < m; i++) {
				double largest = 0;
				double smallest = 1;
				for (int k = 0; k < m; k++) {
					if (sorted.get(k) <= p.get(i)) {
						largest = Math.max(largest, Math.min(1, (m - k) * sorted.get(k)));
					}
					if (sorted.get(k) >= p.get(i)) {
						smallest = Math.min(smallest, m * sorted.get(k) / (k + 1));
					}
				}
				assertThat(holm.get(i)).as("set %d", set).isCloseTo(largest, within(1e-12));
				assertThat(screen.get(i)).as("set %d", set).isCloseTo(smallest, within(1e-12));
				assertThat(p.get(i)).isLessThanOrEqualTo(screen.get(i) + 1e-12);
				assertThat(screen.get(i)).isLessThanOrEqualTo(holm.get(i) + 1e-12);
				assertThat(holm.get(i)).isLessThanOrEqualTo(plain.get(i) + 1e-12);
			}
		}
	}

	@Test
	void refusesCountsAndProbabilitiesThatDoNotExist() {
		assertThatIllegalArgumentException().isThrownBy(() -> ProportionInterval.of(3, 2, 0.95));
		assertThatIllegalArgumentException().isThrownBy(() -> ProportionInterval.of(-1, 2, 0.95));
		assertThatIllegalArgumentException().isThrownBy(() -> ProportionInterval.of(1, 2, 1));
		assertThatIllegalArgumentException().isThrownBy(() -> new EventCount(0, 0));
		assertThatIllegalArgumentException().isThrownBy(() -> new EventCount(3, 2));
		assertThatIllegalArgumentException().isThrownBy(() -> MultipleTesting.HOLM.adjust(List.of(1.01)));
		assertThatIllegalArgumentException().isThrownBy(() -> MultipleTesting.HOLM.adjust(List.of(Double.NaN)));
	}

}
