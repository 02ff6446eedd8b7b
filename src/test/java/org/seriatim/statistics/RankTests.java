package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

/**
 * Comparison of grades, plain and clustered, and trends of single scars: laws and
 * agreement with counting pairs. Published values are in the reference cases.
 */
class RankTests {

	private static final int SETS = 300;

	private static double[] grades(Random random, int n) {
		double[] grades = new double[n];
		for (int i = 0; i < n; i++) {
			grades[i] = random.nextInt(5);
		}
		return grades;
	}

	private static double index(double[] x, double[] y) {
		double sum = 0;
		for (double a : x) {
			for (double b : y) {
				sum += (a < b) ? 1 : (a == b) ? 0.5 : 0;
			}
		}
		return sum / (x.length * y.length);
	}

	@Test
	void theIndexCountsPairsAndMirrorsWithTheGroups() {
		Random random = new Random(1);
		for (int set = 0; set < SETS; set++) {
			double[] x = grades(random, 2 + random.nextInt(12));
			double[] y = grades(random, 2 + random.nextInt(12));
			RankComparison one = RankComparison.of(x, y, 0.95).known().orElseThrow();
			RankComparison other = RankComparison.of(y, x, 0.95).known().orElseThrow();
			assertThat(one.probabilisticIndex()).as("set %d", set).isCloseTo(index(x, y), within(1e-12));
			assertThat(other.probabilisticIndex()).as("set %d", set)
				.isCloseTo(1 - one.probabilisticIndex(), within(1e-12));
			double ranks = one.rankSumY() + other.rankSumY();
			assertThat(ranks).as("both rank sums, set %d", set)
				.isCloseTo((x.length + y.length) * (x.length + y.length + 1) / 2.0, within(1e-9));
			double[] squashedX = Arrays.stream(x).map(Math::atan).toArray();
			double[] squashedY = Arrays.stream(y).map(Math::atan).toArray();
			assertThat(RankComparison.of(squashedX, squashedY, 0.95).known().orElseThrow()).as("set %d", set)
				.isEqualTo(one);
		}
	}

	@Test
	void theVarianceIsThatOfAllArrangements() {
		Random random = new Random(2);
		for (int set = 0; set < 60; set++) {
			double[] x = grades(random, 3);
			double[] y = grades(random, 4);
			double[] all = new double[7];
			System.arraycopy(x, 0, all, 0, 3);
			System.arraycopy(y, 0, all, 3, 4);
			double sum = 0;
			double squares = 0;
			int arrangements = 0;
			for (int mask = 0; mask < 128; mask++) {
				if (Integer.bitCount(mask) == 3) {
					int chosen = mask;
					double[] first = pick(all, (i) -> (chosen >> i & 1) == 1);
					double[] second = pick(all, (i) -> (chosen >> i & 1) == 0);
					double u = 12 * index(first, second);
					sum += u;
					squares += u * u;
					arrangements++;
				}
			}
			double variance = squares / arrangements - Math.pow(sum / arrangements, 2);
			assertThat(RankComparison.of(x, y, 0.95).known().orElseThrow().variance()).as("set %d", set)
				.isCloseTo(variance, within(1e-9));
		}
	}

	private static double[] pick(double[] values, java.util.function.IntPredicate chosen) {
		return java.util.stream.IntStream.range(0, values.length)
			.filter(chosen)
			.mapToDouble((i) -> values[i])
			.toArray();
	}

	private static List<GroupedLesion> lesions(Random random, int patients, boolean mixed, int most) {
		List<GroupedLesion> lesions = new ArrayList<>();
		for (int g = 0; g < patients; g++) {
			int lesionsOfOne = 1 + random.nextInt(most);
			for (int i = 0; i < lesionsOfOne; i++) {
				boolean second = mixed ? random.nextBoolean() : g % 2 == 1;
				lesions.add(new GroupedLesion("p" + g, second, random.nextInt(5)));
			}
		}
		return lesions;
	}

	@Test
	void withOneLesionEachTheClusteredTestIsThePlainOne() {
		Random random = new Random(3);
		for (int set = 0; set < SETS; set++) {
			List<GroupedLesion> lesions = lesions(random, 6 + random.nextInt(14), false, 1);
			double[] x = lesions.stream()
				.filter((one) -> !one.inSecondGroup())
				.mapToDouble(GroupedLesion::value)
				.toArray();
			double[] y = lesions.stream()
				.filter(GroupedLesion::inSecondGroup)
				.mapToDouble(GroupedLesion::value)
				.toArray();
			RankComparison plain = RankComparison.of(x, y, 0.95).known().orElseThrow();
			ClusteredRankSum clustered = ClusteredRankSum.of(lesions).known().orElseThrow();
			if (plain.z().isPresent()) {
				assertThat(clustered.z()).as("set %d", set).hasValueCloseTo(plain.z().getAsDouble(), within(1e-9));
			}
			ClusteredProbabilisticIndex index = ClusteredProbabilisticIndex.of(lesions, 0.95).known().orElseThrow();
			assertThat(index.probabilisticIndex()).isCloseTo(plain.probabilisticIndex(), within(1e-12));
			plain.placement()
				.ifPresent((placement) -> assertThat(index.standardError().orElseThrow()).as("below 1 in group sizes")
					.isBetween(0.5 * placement.standardError(), 1.5 * placement.standardError()));
		}
	}

	@Test
	void clusteredVersionsIgnoreOrderNamesAndScale() {
		Random random = new Random(4);
		for (int set = 0; set < SETS; set++) {
			List<GroupedLesion> lesions = lesions(random, 12, false, 3);
			List<GroupedLesion> other = new ArrayList<>(lesions.stream()
				.map((one) -> new GroupedLesion("x" + one.patient(), one.inSecondGroup(), Math.exp(one.value())))
				.toList());
			Collections.shuffle(other, random);
			ClusteredRankSum one = ClusteredRankSum.of(lesions).known().orElseThrow();
			ClusteredRankSum two = ClusteredRankSum.of(other).known().orElseThrow();
			assertThat(two.statistic()).as("set %d", set).isCloseTo(one.statistic(), within(1e-9));
			assertThat(two.variance()).as("set %d", set).isCloseTo(one.variance(), within(1e-9));
			ClusteredProbabilisticIndex index = ClusteredProbabilisticIndex.of(lesions, 0.95).known().orElseThrow();
			ClusteredProbabilisticIndex again = ClusteredProbabilisticIndex.of(other, 0.95).known().orElseThrow();
			assertThat(again.standardError().orElseThrow()).as("set %d", set)
				.isCloseTo(index.standardError().orElseThrow(), within(1e-9));
			List<GroupedLesion> swapped = lesions.stream()
				.map((lesion) -> new GroupedLesion(lesion.patient(), !lesion.inSecondGroup(), lesion.value()))
				.toList();
			ClusteredProbabilisticIndex mirrored = ClusteredProbabilisticIndex.of(swapped, 0.95).known().orElseThrow();
			assertThat(mirrored.probabilisticIndex()).as("set %d", set)
				.isCloseTo(1 - index.probabilisticIndex(), within(1e-12));
			assertThat(mirrored.standardError().orElseThrow()).as("set %d", set)
				.isCloseTo(index.standardError().orElseThrow(), within(1e-9));
		}
	}

	@Test
	void theClusteredErrorIsTheSpreadOverRepeatedClinics() {
		// 24 patients, half in each group, three strongly alike lesions each
		Random random = new Random(5);
		double sum = 0;
		double squares = 0;
		double errors = 0;
		int runs = 600;
		for (int run = 0; run < runs; run++) {
			List<GroupedLesion> lesions = new ArrayList<>();
			for (int g = 0; g < 24; g++) {
				double level = random.nextGaussian();
				for (int i = 0; i < 3; i++) {
					lesions.add(new GroupedLesion("p" + g, g % 2 == 1, level + 0.3 * random.nextGaussian()));
				}
			}
			ClusteredProbabilisticIndex index = ClusteredProbabilisticIndex.of(lesions, 0.95).known().orElseThrow();
			sum += index.probabilisticIndex();
			squares += index.probabilisticIndex() * index.probabilisticIndex();
			errors += index.standardError().orElseThrow();
		}
		double spread = Math.sqrt(squares / runs - Math.pow(sum / runs, 2));
		assertThat(errors / runs).isCloseTo(spread, within(0.1 * spread));
	}

	@Test
	void saysWhatIsMissing() {
		assertThat(RankComparison.of(new double[0], new double[] { 1 }, 0.95))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.TOO_FEW_OBSERVATIONS, 1));
		assertThat(ClusteredRankSum.of(List.of())).isEqualTo(Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0));
		assertThat(ClusteredProbabilisticIndex.of(List.of(), 0.95))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.TOO_FEW_GROUPS, 0));
		assertThatIllegalArgumentException().isThrownBy(
				() -> ClusteredRankSum.of(List.of(new GroupedLesion("a", true, 1), new GroupedLesion("a", false, 1))));
		assertThatIllegalArgumentException().isThrownBy(() -> new GroupedLesion("a", true, Double.NaN));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> RankComparison.of(new double[] { Double.NaN }, new double[] { 1 }, 0.95));
	}

	@Test
	void theTrendFollowsTheDataAndTheirScale() {
		Random random = new Random(6);
		for (int set = 0; set < SETS; set++) {
			int n = 4 + random.nextInt(12);
			double[] x = new double[n];
			double[] y = new double[n];
			for (int i = 0; i < n; i++) {
				x[i] = random.nextInt(8);
				y[i] = random.nextInt(9);
			}
			TheilSenTrend trend = TheilSenTrend.of(x, y, 0.9);
			TheilSenTrend moved = TheilSenTrend.of(Arrays.stream(x).map((v) -> 2 * v + 5).toArray(),
					Arrays.stream(y).map((v) -> 7 - 4 * v).toArray(), 0.9);
			if (trend.slope().isPresent()) {
				assertThat(moved.slope()).as("set %d", set)
					.hasValueCloseTo(-2 * trend.slope().getAsDouble(), within(1e-12));
				assertThat(moved.kendallS()).as("set %d", set).isEqualTo(-trend.kendallS());
				assertThat(moved.kendallVariance()).as("set %d", set).isEqualTo(trend.kendallVariance());
				trend.limits()
					.ifPresent((limits) -> assertThat(moved.limits().orElseThrow().low()).isCloseTo(-2 * limits.high(),
							within(1e-12)));
			}
		}
	}

	@Test
	void theVarianceOfKendallsStatisticIsThatOfAllOrders() {
		// x and y with ties, all 720 orders of y
		double[] x = { 1, 1, 2, 3, 3, 4 };
		double[] y = { 5, 2, 2, 7, 7, 7 };
		List<double[]> orders = new ArrayList<>();
		permute(y.clone(), 0, orders);
		double squares = 0;
		for (double[] order : orders) {
			double s = 0;
			for (int i = 0; i < 6; i++) {
				for (int j = i + 1; j < 6; j++) {
					s += Math.signum(x[j] - x[i]) * Math.signum(order[j] - order[i]);
				}
			}
			squares += s * s;
		}
		assertThat(TheilSenTrend.of(x, y, 0.95).kendallVariance()).hasValueCloseTo(squares / orders.size(),
				within(1e-9));
	}

	private static void permute(double[] values, int from, List<double[]> orders) {
		if (from == values.length) {
			orders.add(values.clone());
		}
		for (int i = from; i < values.length; i++) {
			double[] next = values.clone();
			next[from] = values[i];
			next[i] = values[from];
			permute(next, from + 1, orders);
		}
	}

	@Test
	void aTrendNeedsDifferentTimes() {
		assertThat(TheilSenTrend.of(new double[0], new double[0], 0.95).slope()).isEmpty();
		assertThat(TheilSenTrend.of(new double[] { 1, 1 }, new double[] { 2, 3 }, 0.95).slope()).isEmpty();
		TheilSenTrend flat = TheilSenTrend.of(new double[] { 1, 2, 3 }, new double[] { 2, 2, 2 }, 0.95);
		assertThat(flat.slope()).hasValue(0);
		assertThat(flat.z()).isEmpty();
		assertThat(flat.limits()).isEmpty();
		assertThatIllegalArgumentException()
			.isThrownBy(() -> TheilSenTrend.of(new double[] { 1 }, new double[0], 0.95));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> TheilSenTrend.of(new double[] { Double.NaN }, new double[] { 1 }, 0.95));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> TheilSenTrend.of(new double[] { 0, Double.MIN_VALUE }, new double[] { 0, 1 }, 0.95))
			.withMessageContaining("close together");
	}

}
