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
 * Published values are in the reference cases; here are edges, laws and agreement with
 * obvious versions.
 */
class KaplanMeierTests {

	private static final int SETS = 300;

	@Test
	void agreesWithTheProductTakenTermByTerm() {
		for (int seed = 0; seed < SETS; seed++) {
			List<EventTime> data = data(seed);
			for (KaplanMeier.Row row : curve(data).rows()) {
				double survival = 1;
				double greenwood = 0;
				for (double time : data.stream().mapToDouble(EventTime::time).distinct().sorted().toArray()) {
					if (time <= row.time()) {
						double atRisk = data.stream().filter((one) -> one.time() >= time).count();
						double events = data.stream().filter((one) -> one.time() == time && one.event()).count();
						survival *= 1 - events / atRisk;
						greenwood += (events == 0) ? 0 : events / (atRisk * (atRisk - events));
					}
				}
				assertThat(row.survival()).as("seed %d, time %s", seed, row.time()).isCloseTo(survival, within(1e-12));
				if (row.standardError().isPresent()) {
					assertThat(row.standardError().getAsDouble()).as("seed %d", seed)
						.isCloseTo(survival * Math.sqrt(greenwood), within(1e-12));
				}
			}
		}
	}

	@Test
	void agreesWithTheIntervalCensoredCurve() {
		for (int seed = 0; seed < SETS; seed++) {
			List<EventTime> data = data(seed);
			IntervalCensoredCurve other = IntervalCensoredCurve
				.of(data.stream()
					.map((one) -> one.event() ? DurationInterval.exactly(one.time())
							: DurationInterval.longerThan(one.time()))
					.toList())
				.known()
				.orElseThrow();
			for (KaplanMeier.Row row : curve(data).rows()) {
				assertThat(other.survivalBounds(row.time()).high()).as("seed %d, time %s", seed, row.time())
					.isCloseTo(row.survival(), within(1e-6));
			}
		}
	}

	@Test
	void isTheShareStillWithoutTheEventWhenNothingIsCensored() {
		for (int seed = 0; seed < SETS; seed++) {
			List<EventTime> data = data(seed).stream().map((one) -> new EventTime(one.time(), true)).toList();
			for (KaplanMeier.Row row : curve(data).rows()) {
				double later = data.stream().filter((one) -> one.time() > row.time()).count();
				assertThat(row.survival()).as("seed %d", seed).isCloseTo(later / data.size(), within(1e-12));
			}
		}
	}

	@Test
	void stretchesWithTheTimeScaleAndIgnoresOrder() {
		for (int seed = 0; seed < SETS; seed++) {
			List<EventTime> data = data(seed);
			List<EventTime> stretched = new ArrayList<>(
					data.stream().map((one) -> new EventTime(4 * one.time(), one.event())).toList());
			Collections.shuffle(stretched, new Random(seed));
			List<KaplanMeier.Row> rows = curve(data).rows();
			List<KaplanMeier.Row> others = curve(stretched).rows();
			assertThat(others).as("seed %d", seed).hasSameSizeAs(rows);
			for (int i = 0; i < rows.size(); i++) {
				assertThat(others.get(i).time()).isEqualTo(4 * rows.get(i).time());
				assertThat(others.get(i).survival()).isEqualTo(rows.get(i).survival());
				assertThat(others.get(i).limits()).isEqualTo(rows.get(i).limits());
			}
		}
	}

	@Test
	void limitsContainTheCurveAndWidenWithConfidence() {
		for (int seed = 0; seed < SETS; seed++) {
			List<EventTime> data = data(seed);
			KaplanMeier wide = KaplanMeier.of(data, 0.99).known().orElseThrow();
			KaplanMeier narrow = KaplanMeier.of(data, 0.8).known().orElseThrow();
			for (int i = 0; i < wide.rows().size(); i++) {
				KaplanMeier.Row outer = wide.rows().get(i);
				KaplanMeier.Row inner = narrow.rows().get(i);
				assertThat(outer.limits().isPresent()).isEqualTo(inner.limits().isPresent());
				if (outer.limits().isPresent()) {
					assertThat(outer.limits().get().low()).as("seed %d", seed)
						.isLessThanOrEqualTo(inner.limits().get().low());
					assertThat(inner.limits().get().low()).isLessThanOrEqualTo(inner.survival());
					assertThat(inner.survival()).isLessThanOrEqualTo(inner.limits().get().high());
					assertThat(inner.limits().get().high()).isLessThanOrEqualTo(outer.limits().get().high());
				}
			}
		}
	}

	@Test
	void tellsTheRowInForceAtATime() {
		KaplanMeier curve = curve(List.of(new EventTime(2, true), new EventTime(5, true), new EventTime(9, false)));
		assertThat(curve.at(1)).isEmpty();
		assertThat(curve.at(2).orElseThrow().time()).isEqualTo(2);
		assertThat(curve.at(8).orElseThrow().time()).isEqualTo(5);
		assertThat(curve.n()).isEqualTo(3);
		assertThat(curve.events()).isEqualTo(2);
	}

	@Test
	void hasNothingToTellWithoutObservations() {
		assertThat(KaplanMeier.of(List.of(), 0.95))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0));
	}

	@Test
	void refusesTimesAndConfidencesThatDoNotExist() {
		assertThatIllegalArgumentException().isThrownBy(() -> new EventTime(-1, true));
		assertThatIllegalArgumentException().isThrownBy(() -> new EventTime(Double.NaN, true));
		assertThatIllegalArgumentException().isThrownBy(() -> new EventTime(Double.POSITIVE_INFINITY, false));
		assertThatIllegalArgumentException().isThrownBy(() -> KaplanMeier.of(List.of(), 1));
		assertThatIllegalArgumentException().isThrownBy(() -> KaplanMeier.of(List.of(), Double.NaN));
	}

	static List<EventTime> data(long seed) {
		Random random = new Random(seed);
		int n = 1 + random.nextInt(25);
		double events = random.nextDouble();
		List<EventTime> data = new ArrayList<>();
		for (int i = 0; i < n; i++) {
			data.add(new EventTime(random.nextInt(12), random.nextDouble() < events));
		}
		return data;
	}

	private static KaplanMeier curve(List<EventTime> data) {
		return KaplanMeier.of(data, 0.95).known().orElseThrow();
	}

}
