package org.seriatim.assessment;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

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

	@ParameterizedTest
	@EnumSource(names = { "MERGED", "SPLIT", "EXCLUDED" })
	void leavesAScarOutFromTheDayOnWhichItWasClassifiedSo(ScarStanding left) {
		var scar = scar(List.of(rating(FIRST, 0.8, null), rating(FIRST.plusDays(20), 0.6, null),
				rating(SECOND.plusDays(20), 0.4, null)), new ScarClassification(SECOND.plusDays(10), left));

		assertThat(this.stages.state(scar, 0)).isPresent();
		assertThat(this.stages.state(scar, 1)).as("it was still followed").isPresent();
		assertThat(this.stages.state(scar, 2)).isEmpty();
		assertThat(this.stages.leftOut(scar, 2)).contains(new ScarClassification(SECOND.plusDays(10), left));
		assertThat(this.stages.leftOut(scar, 1)).isEmpty();
		assertThat(this.stages.state(scar.asOf(SECOND.plusDays(9)), 2)).as("as known before").isEmpty();
		assertThat(this.stages.leftOut(scar.asOf(SECOND.plusDays(9)), 2)).isEmpty();
	}

	@Test
	void followsAScarAgainThatWasAssessedAfterItHadBeenLeftOut() {
		var scar = scar(List.of(rating(FIRST, 0.8, null), rating(SECOND.plusDays(20), 0.4, null)),
				new ScarClassification(FIRST.plusDays(10), ScarStanding.EXCLUDED),
				new ScarClassification(SECOND.plusDays(20), ScarStanding.ASSESSED));

		assertThat(this.stages.state(scar, 1)).isEmpty();
		assertThat(this.stages.leftOut(scar, 1)).isPresent();
		assertThat(this.stages.state(scar, 2).orElseThrow().depth().mm()).isEqualTo(0.4);
	}

	@Test
	void letsLeavingOutweighOnOneDay() {
		var scar = scar(List.of(rating(FIRST.plusDays(10), 0.6, null)),
				new ScarClassification(FIRST.plusDays(10), ScarStanding.EXCLUDED),
				new ScarClassification(FIRST.plusDays(10), ScarStanding.ASSESSED));

		assertThat(this.stages.state(scar, 1)).isEmpty();
	}

	/* The definition of improvement: depth 0 is the best result, improvement 100. */
	@Test
	void takesWhatIsResolvedForADepthOfZero() {
		var scar = scar(List.of(rating(FIRST, 0.8, null)),
				new ScarClassification(FIRST.plusDays(20), ScarStanding.RESOLVED));

		var later = this.stages.state(scar, 1).orElseThrow();

		assertThat(later.depth()).isEqualTo(new ScarState.Depth(FIRST.plusDays(20), 0, DepthMethod.GAUGE));
		assertThat(ScarChange.between(scar.type(), this.stages.state(scar, 0).orElseThrow(), later))
			.hasValueSatisfying((change) -> {
				assertThat(((ScarChange.InDepth) change).percent()).isEqualTo(100);
				assertThat(((ScarChange.InDepth) change).isResolved()).isTrue();
			});
	}

	@Test
	void takesTheMeasuredDepthOfTheDayBeforeTheWordResolved() {
		var scar = scar(List.of(rating(FIRST, 0.8, null), rating(FIRST.plusDays(20), 0.05, null)),
				new ScarClassification(FIRST.plusDays(20), ScarStanding.RESOLVED));

		assertThat(this.stages.state(scar, 1).orElseThrow().depth().mm()).isEqualTo(0.05);
	}

	@ParameterizedTest
	@EnumSource(names = { "NOT_ASSESSED", "NOT_FOUND" })
	void makesNoZeroOfWhatNobodySaw(ScarStanding unseen) {
		var scar = scar(List.of(rating(FIRST, 0.8, null)), new ScarClassification(FIRST.plusDays(20), unseen));

		assertThat(this.stages.state(scar, 1)).isEmpty();
		assertThat(this.stages.leftOut(scar, 1)).isEmpty();
	}

	@Test
	void needsASession() {
		assertThatIllegalArgumentException().isThrownBy(() -> new SeriesStages(List.of(), null));
	}

	private static RatedScar scar(ScarRating... ratings) {
		return new RatedScar(ScarId.next(), "A", Region.NOSE, ScarType.BOXCAR, Arrays.asList(ratings));
	}

	private static RatedScar scar(List<ScarRating> ratings, ScarClassification... classifications) {
		return new RatedScar(ScarId.next(), "A", Region.NOSE, ScarType.BOXCAR, ratings, List.of(classifications));
	}

	private static ScarRating rating(LocalDate day, @Nullable Double depth, @Nullable Integer severity) {
		return new ScarRating(day, depth, (depth != null) ? DepthMethod.GAUGE : null, severity);
	}

}
