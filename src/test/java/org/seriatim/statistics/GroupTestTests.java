package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

/**
 * Tests of groups, right- and interval-censored: laws and agreement. Published values are
 * in the reference cases.
 */
class GroupTestTests {

	private static final int SETS = 300;

	private static List<Grouped<EventTime>> grouped(long seed, int groups) {
		Random random = new Random(seed);
		List<Grouped<EventTime>> data = new ArrayList<>();
		for (EventTime time : KaplanMeierTests.data(seed)) {
			data.add(new Grouped<>("g" + random.nextInt(groups), time));
		}
		return data;
	}

	private static <T> List<Grouped<T>> swapped(List<Grouped<T>> data) {
		return data.stream().map((one) -> new Grouped<>(one.group().equals("g0") ? "g1" : "g0", one.value())).toList();
	}

	@Test
	void logRankAgreesWithTheTwoByTwoTables() {
		for (int seed = 0; seed < SETS; seed++) {
			List<Grouped<EventTime>> data = grouped(seed, 2);
			if (LogRankTest.of(data, 0) instanceof Estimate.Known<LogRankTest> known) {
				double difference = 0;
				double variance = 0;
				for (double time : data.stream().mapToDouble((one) -> one.value().time()).distinct().toArray()) {
					double n = count(data, time, false, false);
					double n1 = count(data, time, true, false);
					double d = count(data, time, false, true);
					difference += count(data, time, true, true) - d * n1 / n;
					variance += (n > 1) ? d * (n1 / n) * (1 - n1 / n) * (n - d) / (n - 1) : 0;
				}
				assertThat(known.value().chiSquare()).as("seed %d", seed)
					.isCloseTo(difference * difference / variance, within(1e-9));
			}
		}
	}

	private static double count(List<Grouped<EventTime>> data, double time, boolean firstOnly, boolean events) {
		return data.stream()
			.filter((one) -> !firstOnly || one.group().equals("g0"))
			.filter((one) -> events ? one.value().event() && one.value().time() == time : one.value().time() >= time)
			.count();
	}

	@Test
	void logRankIgnoresNamesOrderAndTimeScale() {
		for (int seed = 0; seed < SETS; seed++) {
			List<Grouped<EventTime>> data = grouped(seed, 2);
			if (LogRankTest.of(data, 1) instanceof Estimate.Known<LogRankTest> known) {
				List<Grouped<EventTime>> other = new ArrayList<>(swapped(data).stream()
					.map((one) -> new Grouped<>(one.group(),
							new EventTime(Math.pow(one.value().time(), 3), one.value().event())))
					.toList());
				Collections.shuffle(other, new Random(seed));
				LogRankTest again = LogRankTest.of(other, 1).known().orElseThrow();
				assertThat(again.chiSquare()).as("seed %d", seed).isCloseTo(known.value().chiSquare(), within(1e-9));
				assertThat(again.pValue()).as("seed %d", seed).isCloseTo(known.value().pValue(), within(1e-9));
			}
		}
	}

	@Test
	void observedAndExpectedEventsAddUpToTheSame() {
		for (int seed = 0; seed < SETS; seed++) {
			if (LogRankTest.of(grouped(seed, 3), 0) instanceof Estimate.Known<LogRankTest> known) {
				assertThat(known.value().observed().stream().mapToDouble(Double::doubleValue).sum()).as("seed %d", seed)
					.isCloseTo(known.value().expected().stream().mapToDouble(Double::doubleValue).sum(), within(1e-9));
			}
		}
	}

	@Test
	void logRankSaysWhatIsMissing() {
		EventTime event = new EventTime(3, true);
		EventTime censored = new EventTime(3, false);
		assertThat(LogRankTest.of(List.of(), 0)).isEqualTo(Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0));
		assertThat(LogRankTest.of(List.of(new Grouped<>("a", event)), 0))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.TOO_FEW_GROUPS, 1));
		assertThat(LogRankTest.of(List.of(new Grouped<>("a", censored), new Grouped<>("b", censored)), 0))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.NO_EVENTS, 2));
		assertThat(LogRankTest.of(List.of(new Grouped<>("a", event), new Grouped<>("b", event)), 0))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.NO_VARIATION, 2));
	}

	private static List<Grouped<DurationInterval>> intervals(long seed) {
		Random random = new Random(seed);
		return RandomDurations.dataSet(seed)
			.stream()
			.map((duration) -> new Grouped<>("g" + random.nextInt(2), duration))
			.toList();
	}

	@ParameterizedTest
	@EnumSource
	void scoresSumToZeroAndChangeSignWithTheGroups(IntervalScoreTest.Scores scores) {
		for (int seed = 0; seed < SETS; seed++) {
			List<Grouped<DurationInterval>> data = intervals(seed);
			if (IntervalScoreTest.of(data, scores) instanceof Estimate.Known<IntervalScoreTest> known) {
				IntervalScoreTest test = known.value();
				assertThat(test.score().get(0) + test.score().get(1)).as("seed %d", seed).isCloseTo(0, within(1e-5));
				IntervalScoreTest other = IntervalScoreTest.of(swapped(data), scores).known().orElseThrow();
				assertThat(other.chiSquare()).as("seed %d", seed).isCloseTo(test.chiSquare(), within(1e-9));
				double z = test.z().orElseThrow();
				assertThat(z * z).as("seed %d", seed).isCloseTo(test.chiSquare(), within(1e-9 * (1 + z * z)));
			}
		}
	}

	@Test
	void onExactAndRightCensoredTimesSunScoresAreLogRankScores() {
		int compared = 0;
		for (int seed = 0; seed < SETS; seed++) {
			List<Grouped<EventTime>> data = grouped(seed, 2);
			List<Grouped<DurationInterval>> intervals = data.stream()
				.map((one) -> new Grouped<>(one.group(),
						one.value().event() ? DurationInterval.exactly(one.value().time())
								: DurationInterval.longerThan(one.value().time())))
				.toList();
			Estimate<IntervalScoreTest> scores = IntervalScoreTest.of(intervals, IntervalScoreTest.Scores.SUN);
			if (LogRankTest.of(data, 0) instanceof Estimate.Known<LogRankTest> logRank
					&& scores instanceof Estimate.Known<IntervalScoreTest> known) {
				assertThat(known.value().score().get(0)).as("seed %d", seed)
					.isCloseTo(logRank.value().observed().get(0) - logRank.value().expected().get(0), within(1e-5));
				compared++;
			}
		}
		assertThat(compared).isGreaterThan(SETS / 2);
	}

	@Test
	void aCountIsThatManyObservations() {
		for (int seed = 0; seed < SETS; seed++) {
			List<Grouped<DurationInterval>> data = intervals(seed);
			List<Grouped<DurationInterval>> single = new ArrayList<>();
			data.forEach((one) -> single.addAll(Collections.nCopies(one.value().count(),
					new Grouped<>(one.group(), new DurationInterval(one.value().left(), one.value().right())))));
			if (IntervalScoreTest.of(data,
					IntervalScoreTest.Scores.FINKELSTEIN) instanceof Estimate.Known<IntervalScoreTest> known) {
				assertThat(IntervalScoreTest.of(single, IntervalScoreTest.Scores.FINKELSTEIN).known().orElseThrow().z())
					.as("seed %d", seed)
					.hasValueCloseTo(known.value().z().orElseThrow(), within(1e-9));
			}
		}
	}

	@Test
	void theScoreTestSaysWhatIsMissing() {
		DurationInterval interval = new DurationInterval(2, 4);
		assertThat(IntervalScoreTest.of(List.of(), IntervalScoreTest.Scores.SUN))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0));
		assertThat(IntervalScoreTest.of(List.of(new Grouped<>("a", interval)), IntervalScoreTest.Scores.SUN))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.TOO_FEW_GROUPS, 1));
		assertThat(IntervalScoreTest.of(List.of(new Grouped<>("a", interval), new Grouped<>("b", interval)),
				IntervalScoreTest.Scores.SUN))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.NO_VARIATION, 2));
	}

}
