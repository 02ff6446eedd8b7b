package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

class SmallestDetectableChangeTests {

	@Test
	void isTheFactorTimesTheRootOfHalfTheMeanSquare() {
		// every pair differs by ln 2, so SEM = ln 2 / sqrt 2 and SDC = 1.96 ln 2
		List<RatingPair> pairs = new ArrayList<>();
		for (int i = 0; i < 10; i++) {
			pairs.add((i % 2 == 0) ? new RatingPair("p" + i, 1, 2) : new RatingPair("p" + i, 0.6, 0.3));
		}
		Detectability.Known known = (Detectability.Known) SmallestDetectableChange.of(pairs, 10, 5);
		assertThat(known.standardError()).isCloseTo(Math.log(2) / Math.sqrt(2), within(1e-14));
		assertThat(known.smallestChange()).isCloseTo(1.96 * Math.log(2), within(1e-14));
		assertThat(known.pairs()).isEqualTo(10);
		assertThat(known.patients()).isEqualTo(10);
	}

	@Test
	void needsEnoughPairsFromEnoughPatients() {
		List<RatingPair> pairs = new ArrayList<>();
		for (int i = 0; i < 10; i++) {
			pairs.add(new RatingPair("p" + i % 4, 1, 1.1));
		}
		assertThat(SmallestDetectableChange.of(pairs, 10, 5)).isEqualTo(new Detectability.TooFew(10, 4, 10, 5));
		assertThat(SmallestDetectableChange.of(pairs, 11, 4)).isEqualTo(new Detectability.TooFew(10, 4, 11, 4));
		assertThat(SmallestDetectableChange.of(pairs, 10, 4)).isInstanceOf(Detectability.Known.class);
		assertThat(SmallestDetectableChange.of(List.of(), 10, 5)).isEqualTo(new Detectability.TooFew(0, 0, 10, 5));
	}

	@Test
	void isZeroWhenAllRepeatsAgree() {
		Detectability.Known known = (Detectability.Known) SmallestDetectableChange
			.of(Collections.nCopies(3, new RatingPair("p", 0.7, 0.7)), 3, 1);
		assertThat(known.smallestChange()).isZero();
		assertThat(known.isExceededBy(0.7, 0.7)).isTrue();
	}

	@Test
	void doesNotDependOnUnitOrderOrDirection() {
		Random random = new Random(3);
		for (int set = 0; set < 300; set++) {
			List<RatingPair> pairs = new ArrayList<>();
			List<RatingPair> changed = new ArrayList<>();
			double unit = Math.exp(3 * random.nextGaussian());
			for (int i = 0; i < 12; i++) {
				double depth = 0.1 + random.nextDouble();
				double again = depth * Math.exp(0.2 * random.nextGaussian());
				pairs.add(new RatingPair("p" + i, depth, again));
				changed.add(0, new RatingPair("p" + i, unit * again, unit * depth));
			}
			assertThat(known(changed).smallestChange()).as("set %d", set)
				.isCloseTo(known(pairs).smallestChange(), within(1e-12));
		}
	}

	@Test
	void aChangeOfExactlyThatSizeExceedsIt() {
		Detectability.Known known = new Detectability.Known(0.25, Math.log(2), 10, 5);
		assertThat(known.isExceededBy(2, 1)).isTrue();
		assertThat(known.isExceededBy(1, 2)).isTrue();
		assertThat(known.isExceededBy(2, Math.nextUp(1.0))).isFalse();
	}

	@ParameterizedTest
	@CsvSource({ "0, 1", "1, 0", "-1, 1", "NaN, 1", "1, Infinity" })
	void refusesRatingsWithoutALogarithm(double first, double second) {
		assertThatIllegalArgumentException().isThrownBy(() -> new RatingPair("p", first, second));
	}

	@Test
	void refusesThresholdsBelowOne() {
		assertThatIllegalArgumentException().isThrownBy(() -> SmallestDetectableChange.of(List.of(), 0, 5));
		assertThatIllegalArgumentException().isThrownBy(() -> SmallestDetectableChange.of(List.of(), 10, 0));
	}

	private static Detectability.Known known(List<RatingPair> pairs) {
		return (Detectability.Known) SmallestDetectableChange.of(pairs, 10, 5);
	}

}
