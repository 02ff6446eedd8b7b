package org.seriatim.treatment.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.Region;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.PointPattern;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.RecordedInjection.Endpoints;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.Target;
import org.seriatim.treatment.domain.UsualPractice.Range;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

class UsualPracticeTests {

	private static final Endpoints NOT_LOOKED_FOR = new Endpoints(null, null, null, null, null);

	@ParameterizedTest
	@CsvSource({ "0.009, true", "0.01, false", "0.0300, false", "0.031, true" })
	void pointsOutWhatLiesOutsideARangeWhoseEndsAreWithin(String pointMl, boolean unusual) {
		var session = session(injection(1, Region.CHIN, Target.PORES, 10, "0.2", pointMl));
		assertThat(practice(UsualMeasure.POINT_ML, "0.01", "0.03").unusualIn(session)).hasSize(unusual ? 1 : 0)
			.allSatisfy((found) -> {
				assertThat(found.part()).isEqualTo(1);
				assertThat(found.value()).isEqualByComparingTo(pointMl);
			});
	}

	/* One cheek takes about 1.5 mL, its medial and its lateral region together. */
	@Test
	void takesTheTwoRegionsOfACheekTogetherAndTheOtherCheekApart() {
		var practice = practice(UsualMeasure.CHEEK_SIDE_ML, "1", "2");
		assertThat(practice.unusualIn(session(injection(1, Region.CHEEK_MEDIAL_LEFT, Target.PORES, 40, "0.8", null),
				injection(2, Region.CHEEK_LATERAL_LEFT, Target.PORES, 40, "0.8", null),
				injection(3, Region.CHEEK_LATERAL_RIGHT, Target.PORES, 120, "2.4", null))))
			.singleElement()
			.satisfies((found) -> {
				assertThat(found.region()).isEqualTo(Region.CHEEK_MEDIAL_RIGHT);
				assertThat(found.value()).isEqualByComparingTo("2.4");
			});
	}

	@Test
	void holdsAnAreaAgainstItsRangeOnlyWherePoresWereTreatedAndEveryVolumeIsKnown() {
		var practice = practice(UsualMeasure.AREA_ML, "0.4", "1.2");
		assertThat(practice.unusualIn(session(injection(1, Region.CHIN, Target.SCAR, 3, "0.06", null)))).isEmpty();
		assertThat(practice.unusualIn(session(injection(1, Region.CHIN, Target.PORES, 90, "1.8", null),
				injection(2, Region.CHIN, Target.SCAR, 3, null, null))))
			.isEmpty();
		assertThat(practice.unusualIn(session(injection(1, Region.CHIN, Target.PORES, 60, "1.2", null),
				injection(2, Region.CHIN, Target.SCAR, 3, "0.06", null))))
			.singleElement()
			.satisfies((found) -> assertThat(found.value()).isEqualByComparingTo("1.26"));
	}

	@Test
	void countsThePointsOfScarsAndTheSpacingOfPoresOnly() {
		var session = session(injection(1, Region.CHIN, Target.SCAR, 4, "0.08", null),
				injection(2, Region.NOSE, Target.PORES, 40, "0.8", null));
		assertThat(practice(UsualMeasure.SCAR_POINTS, "2", "3").unusualIn(session)).singleElement()
			.satisfies((found) -> assertThat(found.part()).isEqualTo(1));
	}

	@Test
	void saysNothingOfWhatTheClinicHasNoRangeOf() {
		var session = session(injection(1, Region.CHIN, Target.PORES, 400, "8", "0.02"));
		assertThat(new UsualPractice(1, Map.of(), Map.of()).unusualIn(session)).isEmpty();
		assertThat(practice(UsualMeasure.WHOLE_FACE_ML, null, "5").unusualIn(session)).hasSize(1);
	}

	@Test
	void putsANoteWhereItBelongs() {
		var practice = new UsualPractice(1, Map.of(), Map.of(UsualTopic.GLABELLA, "small amounts", UsualTopic.PORES,
				"close together", UsualTopic.SMALL_SCAR, "rim included", UsualTopic.ORDER, "lateral first"));
		assertThat(practice.on(Region.GLABELLA, Target.PORES)).containsExactly("close together", "small amounts");
		assertThat(practice.on(Region.CHIN, Target.SCAR)).containsExactly("rim included");
		assertThat(practice.general()).containsOnlyKeys(UsualTopic.ORDER);
	}

	@Test
	void refusesARangeWithoutEndsOrWithReversedOnes() {
		assertThatIllegalArgumentException().isThrownBy(() -> new Range(null, null));
		assertThatIllegalArgumentException().isThrownBy(() -> new Range(BigDecimal.TEN, BigDecimal.ONE));
		assertThat(new Range(new BigDecimal("1.50"), null)).isEqualTo(new Range(new BigDecimal("1.5"), null));
	}

	private static UsualPractice practice(UsualMeasure measure, @Nullable String low, @Nullable String high) {
		return new UsualPractice(1, Map.of(measure,
				new Range((low != null) ? new BigDecimal(low) : null, (high != null) ? new BigDecimal(high) : null)),
				Map.of());
	}

	private static RecordedInjection injection(int number, Region region, Target target, int points,
			@Nullable String volume, @Nullable String pointMl) {
		return new RecordedInjection(number, null, region, null, target, null, points,
				(volume != null) ? new BigDecimal(volume) : null, null, null, NOT_LOOKED_FOR, null,
				new PointPattern((pointMl != null) ? new BigDecimal(pointMl) : null, null, null, null));
	}

	private static RecordedSession session(RecordedInjection... injections) {
		return new RecordedSession(SessionId.next(), PatientId.next(), SeriesId.next(), 1,
				LocalDate.parse("2026-11-20"), new StaffId(UUID.randomUUID()), null, null, null, null, null, null, null,
				null, List.of(), List.of(injections));
	}

}
