package org.seriatim.treatment;

import java.math.BigDecimal;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

/**
 * Expected values by geometry: a point of a square grid stands for the square of its
 * spacing.
 */
class PointPlanTests {

	@ParameterizedTest
	@CsvSource({ "20, 10, 20", "20, 5, 80", "1, 10, 1", "0.1, 10, 1", "20.1, 10, 21", "36, 7, 74" })
	void coversAnAreaWithASquareGridRoundedUp(BigDecimal areaCm2, BigDecimal spacingMm, int points) {
		assertThat(PointPlan.of(areaCm2, spacingMm, null).points()).isEqualTo(points);
	}

	@Test
	void takesTheVolumeOfEachPointAsOftenAsThereArePoints() {
		// 75 points of 0.02 mL are the 1.5 mL that one side of a cheek takes in common
		// practice
		assertThat(PointPlan.of(new BigDecimal("75"), new BigDecimal("10"), new BigDecimal("0.02")).volume())
			.hasValueSatisfying((ml) -> assertThat(ml).isEqualByComparingTo("1.5"));
		assertThat(PointPlan.of(new BigDecimal("75"), new BigDecimal("10"), null).volume()).isEmpty();
	}

	@Test
	void staysFiniteForASlipOfThePen() {
		assertThat(PointPlan.of(new BigDecimal("1e12"), new BigDecimal("0.001"), null).points()).isEqualTo(1_000_000);
	}

	@Test
	void refusesAnAreaOrASpacingOfNothing() {
		assertThatIllegalArgumentException().isThrownBy(() -> PointPlan.of(BigDecimal.ZERO, BigDecimal.TEN, null))
			.withMessageContaining("areaCm2");
		assertThatIllegalArgumentException().isThrownBy(() -> PointPlan.of(BigDecimal.TEN, BigDecimal.ZERO, null))
			.withMessageContaining("spacingMm");
	}

	@Test
	void knowsTheVolumeOfPointsOnlyWhereBothAreKnown() {
		assertThat(PointPattern.volumeOf(3, new BigDecimal("0.02")))
			.hasValueSatisfying((ml) -> assertThat(ml).isEqualByComparingTo("0.06"));
		assertThat(PointPattern.volumeOf(null, new BigDecimal("0.02"))).isEmpty();
		assertThat(PointPattern.volumeOf(3, null)).isEmpty();
	}

}
