package org.seriatim.statistics;

import java.util.List;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

/**
 * Expected values are sums of the masses given here, worked out by hand.
 */
class CurveMassesTests {

	private final CurveMasses curve = new CurveMasses(40, List.of(new Mass(0, 3, 0.3), new Mass(5, 8, 0.4),
			new Mass(10, 10, 0.1), new Mass(13, 20, 0.1), new Mass(30, Double.POSITIVE_INFINITY, 0.1)));

	@Test
	void theShareIsARangeInsideAnIntervalAndANumberElsewhere() {
		assertBounds(this.curve.stillPresent(0), 1, 1);
		assertBounds(this.curve.stillPresent(2), 0.7, 1);
		assertBounds(this.curve.stillPresent(3), 0.7, 0.7);
		assertBounds(this.curve.stillPresent(5), 0.7, 0.7);
		assertBounds(this.curve.stillPresent(6), 0.3, 0.7);
		assertBounds(this.curve.stillPresent(10), 0.2, 0.2);
		assertBounds(this.curve.stillPresent(31), 0, 0.1);
	}

	@Test
	void theQuantileIsTheIntervalThatCrossesItsLevel() {
		assertThat(this.curve.median()).isEqualTo(new Bounds(5, 8));
		assertThat(this.curve.quantile(0.75)).isEqualTo(new Bounds(10, 10));
		assertThat(this.curve.quantile(0.95)).isEqualTo(new Bounds(30, Double.POSITIVE_INFINITY));
	}

	@Test
	void aQuantileMetExactlyReachesIntoTheNextInterval() {
		assertThat(this.curve.quantile(0.3)).isEqualTo(new Bounds(0, 8));
	}

	@Test
	void theProbabilityOfHavingGoneCountsAnIntervalAtItsRightEnd() {
		// present at 6: 0.4 + 0.1 + 0.1 + 0.1 lie beyond
		assertThat(this.curve.probabilityGoneBy(7, 6)).hasValue(0);
		assertThat(this.curve.probabilityGoneBy(8, 6).orElseThrow()).isCloseTo(4.0 / 7, within(1e-12));
		assertThat(this.curve.probabilityGoneBy(10, 6).orElseThrow()).isCloseTo(5.0 / 7, within(1e-12));
		assertThat(this.curve.probabilityGoneBy(365, 6).orElseThrow()).isCloseTo(6.0 / 7, within(1e-12));
	}

	@Test
	void whatEndsOnTheDayItWasPresentCountsAsGone() {
		// present at 8: 0.1 + 0.1 + 0.1 lie beyond, the 0.4 in (5, 8] do not
		assertThat(this.curve.probabilityGoneBy(10, 8).orElseThrow()).isCloseTo(1.0 / 3, within(1e-12));
		assertThat(this.curve.probabilityGoneBy(8, 8)).hasValue(0);
	}

	@Test
	void findsTheFirstDayWithTheProbability() {
		assertThat(this.curve.firstDayGoneWith(4.0 / 7, 6, 365)).isEqualTo(new DayGone.Reached(8));
		assertThat(this.curve.firstDayGoneWith(0.6, 6, 365)).isEqualTo(new DayGone.Reached(10));
		assertThat(this.curve.firstDayGoneWith(0.8, 6, 365)).isEqualTo(new DayGone.Reached(20));
		assertThat(this.curve.firstDayGoneWith(0.8, 6, 19)).isEqualTo(new DayGone.NeverReaches());
		assertThat(this.curve.firstDayGoneWith(0.9, 6, 365)).isEqualTo(new DayGone.NeverReaches());
	}

	@Test
	void aFractionOfADayIsReachedOnTheDayAfter() {
		CurveMasses fine = new CurveMasses(1, List.of(new Mass(1.25, 2.5, 1)));
		assertThat(fine.firstDayGoneWith(0.9, 0, 365)).isEqualTo(new DayGone.Reached(3));
		assertThat(fine.firstDayGoneWith(0.9, 0, 2)).isEqualTo(new DayGone.NeverReaches());
	}

	@Test
	void saysSoWhenTheCurveHasNoMassBeyond() {
		CurveMasses ended = new CurveMasses(3, List.of(new Mass(2, 4, 1)));
		assertThat(ended.firstDayGoneWith(0.9, 4, 365)).isEqualTo(new DayGone.NoMassBeyond());
		assertThat(ended.probabilityGoneBy(9, 4)).isEmpty();
		assertThat(ended.firstDayGoneWith(0.9, 3, 365)).isEqualTo(new DayGone.Reached(4));
	}

	@Test
	void knowsNothingWithoutMasses() {
		CurveMasses none = new CurveMasses(0, List.of());
		assertThat(none.stillPresent(7)).isEqualTo(new Bounds(0, 1));
		assertThat(none.median()).isEqualTo(new Bounds(0, Double.POSITIVE_INFINITY));
		assertThat(none.firstDayGoneWith(0.9, 3, 365)).isEqualTo(new DayGone.NoMassBeyond());
	}

	@Test
	void canBeRebuiltFromStoredMassesInAnyOrder() {
		CurveMasses stored = new CurveMasses(40, List.of(this.curve.masses().get(3), this.curve.masses().get(0),
				this.curve.masses().get(4), this.curve.masses().get(2), this.curve.masses().get(1)));
		assertThat(stored).isEqualTo(this.curve);
	}

	@Test
	void refusesMassesThatAreNoDistribution() {
		assertThatIllegalArgumentException().isThrownBy(() -> new CurveMasses(3, List.of(new Mass(0, 1, 0.4))));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> new CurveMasses(3, List.of(new Mass(0, 4, 0.5), new Mass(3, 5, 0.5))));
		assertThatIllegalArgumentException().isThrownBy(() -> new Mass(0, 1, Double.NaN));
		assertThatIllegalArgumentException().isThrownBy(() -> new Mass(0, 1, -0.1));
		assertThatIllegalArgumentException().isThrownBy(() -> this.curve.firstDayGoneWith(0, 1, 365));
		assertThatIllegalArgumentException().isThrownBy(() -> this.curve.probabilityGoneBy(Double.NaN, 1));
	}

	private static void assertBounds(Bounds actual, double low, double high) {
		assertThat(actual.low()).isCloseTo(low, within(1e-12));
		assertThat(actual.high()).isCloseTo(high, within(1e-12));
	}

}
