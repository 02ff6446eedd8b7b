package org.seriatim.assessment;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

class ScarChangeTests {

	private static final LocalDate DAY = LocalDate.of(2026, 1, 5);

	@Test
	void isInDepthWhereOneMethodMeasuredBoth() {
		var change = ScarChange.between(ScarType.ROLLING, state(0.8, DepthMethod.GAUGE, 3.0),
				state(0.6, DepthMethod.GAUGE, 2.0));

		assertThat(change).containsInstanceOf(ScarChange.InDepth.class);
		var inDepth = (ScarChange.InDepth) change.orElseThrow();
		assertThat(inDepth.percent()).isCloseTo(25, within(1e-9));
		assertThat(inDepth.logRatio()).isCloseTo(Math.log(0.75), within(1e-12));
		assertThat(inDepth.isResolved()).isFalse();
	}

	@Test
	void isCompleteAtDepthZeroAndBeyondAnyError() {
		var change = (ScarChange.InDepth) ScarChange
			.between(ScarType.BOXCAR, state(0.8, DepthMethod.GAUGE, null), state(0.0, DepthMethod.GAUGE, null))
			.orElseThrow();

		assertThat(change.percent()).isEqualTo(100);
		assertThat(change.isResolved()).isTrue();
		assertThat(change.isBeyond(1000)).isTrue();
	}

	@Test
	void exceedsMeasurementErrorFromTheSmallestDetectableChangeOnInBothDirections() {
		assertThat(new ScarChange.InDepth(20, -0.2).isBeyond(0.2)).isTrue();
		assertThat(new ScarChange.InDepth(-20, 0.2).isBeyond(0.2)).isTrue();
		assertThat(new ScarChange.InDepth(20, Math.nextUp(-0.2)).isBeyond(0.2)).isFalse();
	}

	@Test
	void isInGradeWhereTheMethodsDiffer() {
		assertThat(ScarChange.between(ScarType.BOXCAR, state(0.8, DepthMethod.GAUGE, 3.0),
				state(0.6, DepthMethod.ULTRASOUND, 1.5)))
			.contains(new ScarChange.InGrade(-1.5));
	}

	@Test
	void isInGradeWhereNothingOfTheDepthWasThereAtTheBaseline() {
		assertThat(ScarChange.between(ScarType.BOXCAR, state(0.0, DepthMethod.GAUGE, 1.0),
				state(0.0, DepthMethod.GAUGE, 0.0)))
			.contains(new ScarChange.InGrade(-1));
	}

	@ParameterizedTest
	@EnumSource(names = { "HYPERTROPHIC", "KELOID", "MACULAR", "UNCLASSIFIED" })
	void leavesScarsWithoutAMeaningfulDepthOutOfDepthStatistics(ScarType type) {
		assertThat(ScarChange.between(type, state(0.8, DepthMethod.GAUGE, 2.0), state(0.4, DepthMethod.GAUGE, 1.0)))
			.contains(new ScarChange.InGrade(-1));
	}

	@Test
	void isNoneWhereNothingIsKnownAtBoth() {
		assertThat(ScarChange.between(ScarType.BOXCAR, state(0.8, DepthMethod.GAUGE, null), state(null, null, 1.0)))
			.isEmpty();
	}

	private static ScarState state(@Nullable Double mm, @Nullable DepthMethod method, @Nullable Double grade) {
		return new ScarState((mm != null) ? new ScarState.Depth(DAY, mm, method) : null,
				(grade != null) ? new ScarState.Severity(DAY, grade) : null);
	}

}
