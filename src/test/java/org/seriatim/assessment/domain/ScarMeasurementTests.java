package org.seriatim.assessment.domain;

import java.math.BigDecimal;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.ScarType;
import org.seriatim.assessment.domain.ScarMeasurement.Contradiction;
import org.seriatim.assessment.domain.ScarMeasurement.Warning;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.assertThatNoException;

/**
 * Which sizes a scar can have and which only its kind. Usual widths: Jacob et al. 2001 by
 * way of Fabbrocini et al. 2010, Table 1; the limits of length, width and depth are ours.
 */
class ScarMeasurementTests {

	@ParameterizedTest
	@CsvSource({ "0, ", "-1, ", "100.001, ", ", -0.01", ", 10.001" })
	void refusesWhatNoScarHas(@Nullable BigDecimal width, @Nullable BigDecimal depth) {
		assertThatIllegalArgumentException().isThrownBy(() -> measured(null, width, depth, null));
	}

	@ParameterizedTest
	@CsvSource({ "300, 100, 10", "0.001, 0.001, 0" })
	void takesTheLimitsThemselves(BigDecimal length, BigDecimal width, BigDecimal depth) {
		assertThatNoException().isThrownBy(() -> measured(length, width, depth, null));
	}

	@Test
	void refusesALengthOfNothingOrOver300() {
		assertThatIllegalArgumentException().isThrownBy(() -> measured(BigDecimal.ZERO, null, null, null));
		assertThatIllegalArgumentException().isThrownBy(() -> measured(new BigDecimal("300.1"), null, null, null));
	}

	@Test
	void isNotShorterThanWide() {
		var wide = measured(new BigDecimal("2"), new BigDecimal("2.1"), null, null);
		assertThat(wide.contradictions(ScarType.BOXCAR)).containsExactly(Contradiction.SHORTER_THAN_WIDE);
		var round = measured(new BigDecimal("2"), new BigDecimal("2.0"), null, null);
		assertThat(round.contradictions(ScarType.BOXCAR)).isEmpty();
	}

	@ParameterizedTest
	@EnumSource(names = { "HYPERTROPHIC", "KELOID", "MACULAR" })
	void hasNoDepthWhereNothingIsHollow(ScarType type) {
		var measurement = measured(null, null, new BigDecimal("0.4"), DepthClass.SHALLOW);
		assertThat(measurement.contradictions(type)).containsExactly(Contradiction.DEPTH_WITHOUT_HOLLOW,
				Contradiction.CLASS_WITHOUT_HOLLOW);
	}

	@Test
	void takesItsClassFromItsDepthAndContradictsAnother() {
		var deep = measured(null, null, new BigDecimal("0.5"), null);
		assertThat(deep.completed().depthClass()).isEqualTo(DepthClass.DEEP);
		assertThat(measured(null, null, new BigDecimal("0.5"), DepthClass.SHALLOW).contradictions(ScarType.BOXCAR))
			.containsExactly(Contradiction.CLASS_AGAINST_DEPTH);
		assertThat(measured(null, null, null, DepthClass.SHALLOW).contradictions(ScarType.BOXCAR)).isEmpty();
	}

	@Test
	void needsTheMethodOfADepthAndForgetsOneWithoutDepth() {
		var unknownMethod = new ScarMeasurement(null, null, BigDecimal.ONE, null, null, null, null);
		assertThat(unknownMethod.contradictions(ScarType.BOXCAR)).containsExactly(Contradiction.DEPTH_WITHOUT_METHOD);
		var methodAlone = new ScarMeasurement(null, null, null, DepthMethod.GAUGE, null, null, null);
		assertThat(methodAlone.isEmpty()).isTrue();
		assertThat(methodAlone.completed().depthMethod()).isNull();
	}

	@ParameterizedTest
	@CsvSource({ "ICE_PICK, 1.9, ", "ICE_PICK, 2, WIDER_THAN_USUAL", "ICE_PICK, 2.5, WIDER_THAN_USUAL",
			"BOXCAR, 1.49, NARROWER_THAN_USUAL", "BOXCAR, 1.5, ", "BOXCAR, 4, ", "BOXCAR, 4.1, WIDER_THAN_USUAL",
			"ROLLING, 4, NARROWER_THAN_USUAL", "ROLLING, 4.1, ", "LINEAR, 5, ", "LINEAR, 5.1, WIDER_THAN_USUAL",
			"KELOID, 90, ", "UNCLASSIFIED, 90, " })
	void warnsOfAnUnusualWidth(ScarType type, BigDecimal width, @Nullable Warning expected) {
		var warnings = measured(null, width, null, null).warnings(type);
		if (expected == null) {
			assertThat(warnings).isEmpty();
		}
		else {
			assertThat(warnings).containsExactly(expected);
		}
	}

	@Test
	void warnsOfAnUnusualDepth() {
		assertThat(measured(null, null, new BigDecimal("3"), null).warnings(ScarType.BOXCAR)).isEmpty();
		assertThat(measured(null, null, new BigDecimal("3.01"), null).warnings(ScarType.BOXCAR))
			.containsExactly(Warning.DEEPER_THAN_USUAL);
		assertThat(measured(null, null, new BigDecimal("0.3"), null).warnings(ScarType.ICE_PICK))
			.containsExactly(Warning.SHALLOW_ICE_PICK);
		assertThat(measured(null, null, null, DepthClass.SHALLOW).warnings(ScarType.ICE_PICK))
			.containsExactly(Warning.SHALLOW_ICE_PICK);
	}

	@Test
	void saysTheSameWhateverDecimalsWereTyped() {
		assertThat(measured(null, null, new BigDecimal("0.5"), null)
			.saysTheSameAs(measured(null, null, new BigDecimal("0.50"), null))).isTrue();
		assertThat(measured(null, null, new BigDecimal("0.5"), null).saysTheSameAs(measured(null, null, null, null)))
			.isFalse();
	}

	private static ScarMeasurement measured(@Nullable BigDecimal length, @Nullable BigDecimal width,
			@Nullable BigDecimal depth, @Nullable DepthClass depthClass) {
		return new ScarMeasurement(length, width, depth, (depth != null) ? DepthMethod.GAUGE : null, depthClass, null,
				null);
	}

}
