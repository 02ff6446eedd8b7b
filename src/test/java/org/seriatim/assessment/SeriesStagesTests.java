package org.seriatim.assessment;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

class SeriesStagesTests {

	private static final LocalDate FIRST = LocalDate.of(2026, 1, 5);

	private static final LocalDate SECOND = FIRST.plusDays(42);

	private static final LocalDate NEXT_SERIES = FIRST.plusDays(400);

	private final SeriesStages stages = new SeriesStages(List.of(FIRST, SECOND), NEXT_SERIES);

	@Test
	void putsAnAssessmentOnTheDayOfASessionIntoTheStageBeforeIt() {
		assertThat(this.stages.contains(0, FIRST)).isTrue();
		assertThat(this.stages.contains(1, FIRST)).isFalse();
		assertThat(this.stages.contains(1, FIRST.plusDays(1))).isTrue();
		assertThat(this.stages.contains(1, SECOND)).isTrue();
		assertThat(this.stages.contains(2, SECOND)).isFalse();
		assertThat(this.stages.contains(2, SECOND.plusDays(1))).isTrue();
	}

	@Test
	void endsTheLastStageWhereTheNextSeriesBegins() {
		assertThat(this.stages.last()).isEqualTo(2);
		assertThat(this.stages.contains(2, NEXT_SERIES)).isTrue();
		assertThat(this.stages.contains(2, NEXT_SERIES.plusDays(1))).isFalse();
		assertThat(new SeriesStages(List.of(FIRST), null).contains(1, NEXT_SERIES.plusYears(3))).isTrue();
	}

	@Test
	void takesTheLastDayWithADepth() {
		var scar = scar(rating(FIRST.plusDays(10), 0.5, 2), rating(FIRST.plusDays(20), 0.4, 2),
				rating(FIRST.plusDays(30), null, 1));

		var state = this.stages.state(scar, 1).orElseThrow();

		assertThat(state.depth()).isEqualTo(new ScarState.Depth(FIRST.plusDays(20), 0.4, DepthMethod.GAUGE));
		assertThat(state.severity()).isEqualTo(new ScarState.Severity(FIRST.plusDays(30), 1));
	}

	@Test
	void takesTheMeanOfSeveralRatingsOfOneDay() {
		var scar = scar(rating(FIRST, 0.4, 2), rating(FIRST, 0.6, 3));

		var state = this.stages.state(scar, 0).orElseThrow();

		assertThat(state.depth().mm()).isCloseTo(0.5, within(1e-12));
		assertThat(state.severity().grade()).isEqualTo(2.5);
	}

	@Test
	void knowsNoMethodWhenTheRatingsOfADayDiffer() {
		var scar = scar(new ScarRating(FIRST, 0.4, DepthMethod.GAUGE, null),
				new ScarRating(FIRST, 0.6, DepthMethod.ULTRASOUND, null));

		var depth = this.stages.state(scar, 0).orElseThrow().depth();

		assertThat(depth.method()).isNull();
		assertThat(depth.isComparableWith(depth)).isFalse();
	}

	@Test
	void knowsNothingOfAStageWithoutARating() {
		assertThat(this.stages.state(scar(rating(FIRST, 0.4, 2)), 1)).isEmpty();
		assertThat(this.stages.state(scar(new ScarRating(FIRST, null, null, null)), 0)).isEmpty();
	}

	@Test
	void needsASession() {
		assertThatIllegalArgumentException().isThrownBy(() -> new SeriesStages(List.of(), null));
	}

	private static RatedScar scar(ScarRating... ratings) {
		return new RatedScar(ScarId.next(), "A", Region.NOSE, ScarType.BOXCAR, Arrays.asList(ratings));
	}

	private static ScarRating rating(LocalDate day, @Nullable Double depth, @Nullable Integer severity) {
		return new ScarRating(day, depth, (depth != null) ? DepthMethod.GAUGE : null, severity);
	}

}
