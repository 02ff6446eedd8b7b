package org.seriatim.assessment;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

import org.seriatim.access.StaffId;
import org.seriatim.patient.PatientId;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

class RepeatedRatingsTests {

	private static final LocalDate DAY = LocalDate.of(2026, 1, 5);

	private static final StaffId ONE = StaffId.next();

	private static final StaffId OTHER = StaffId.next();

	@Test
	void keepsPairsOfTwoAssessorsAndOfOneAssessorApart() {
		var patient = PatientId.next();
		var scar = ScarId.next();
		var ratings = RepeatedRatings.among(List.of(rating(patient, scar, DAY, ONE, false, 0.5, DepthMethod.GAUGE),
				rating(patient, scar, DAY, ONE, true, 0.6, DepthMethod.GAUGE),
				rating(patient, scar, DAY, OTHER, false, 0.4, DepthMethod.GAUGE)));

		assertThat(ratings.between().pairs()).isEqualTo(1);
		assertThat(ratings.between().standardError()).isCloseTo(Math.abs(Math.log(0.5 / 0.4)) / Math.sqrt(2),
				within(1e-12));
		assertThat(ratings.within().pairs()).isEqualTo(1);
		assertThat(ratings.within().standardError()).isCloseTo(Math.abs(Math.log(0.6 / 0.5)) / Math.sqrt(2),
				within(1e-12));
	}

	@Test
	void pairsOnlyRatingsOfOneScarOnOneDay() {
		var patient = PatientId.next();
		var scar = ScarId.next();

		var ratings = RepeatedRatings.among(List.of(rating(patient, scar, DAY, ONE, false, 0.5, DepthMethod.GAUGE),
				rating(patient, scar, DAY.plusDays(1), OTHER, false, 0.4, DepthMethod.GAUGE),
				rating(patient, ScarId.next(), DAY, OTHER, false, 0.4, DepthMethod.GAUGE)));

		assertThat(ratings.between()).isNull();
		assertThat(ratings.within()).isNull();
	}

	@Test
	void leavesOutADepthOfZeroAndTwoMethods() {
		var patient = PatientId.next();
		var scar = ScarId.next();

		var ratings = RepeatedRatings.among(List.of(rating(patient, scar, DAY, ONE, false, 0.5, DepthMethod.GAUGE),
				rating(patient, scar, DAY, OTHER, false, 0, DepthMethod.GAUGE),
				rating(patient, scar, DAY, StaffId.next(), false, 0.4, DepthMethod.ULTRASOUND)));

		assertThat(ratings.between()).isNull();
	}

	@Test
	void needsPairsAndPatients() {
		assertThat(ratings(10, 5, false).repeatability(10, 5)).isInstanceOf(Repeatability.Known.class);
		assertThat(ratings(9, 5, false).repeatability(10, 5)).isInstanceOf(Repeatability.TooFew.class);
		assertThat(ratings(10, 4, false).repeatability(10, 5)).isInstanceOf(Repeatability.TooFew.class);
	}

	@Test
	void fallsBackToPairsOfOneAssessor() {
		assertThat(ratings(10, 5, true).repeatability(10, 5)).isInstanceOfSatisfying(Repeatability.Known.class,
				(known) -> assertThat(known.raters()).isEqualTo(Repeatability.Raters.WITHIN));
	}

	@Test
	void saysWhatIsThereWhenItIsTooFew() {
		assertThat(ratings(9, 5, true).repeatability(10, 5)).isInstanceOfSatisfying(Repeatability.TooFew.class,
				(few) -> {
					assertThat(few.ratings().between()).isNull();
					assertThat(few.ratings().within().pairs()).isEqualTo(9);
					assertThat(few.pairsNeeded()).isEqualTo(10);
				});
	}

	private static RepeatedRatings ratings(int pairs, int patients, boolean blindedRepeat) {
		var ofClinic = new ArrayList<PatientId>();
		for (int i = 0; i < patients; i++) {
			ofClinic.add(PatientId.next());
		}
		var depths = new ArrayList<RatedDepth>();
		for (int i = 0; i < pairs; i++) {
			var patient = ofClinic.get(i % patients);
			var scar = ScarId.next();
			depths.add(rating(patient, scar, DAY, ONE, false, 0.5, null));
			depths.add(rating(patient, scar, DAY, blindedRepeat ? ONE : OTHER, blindedRepeat, 0.6, DepthMethod.GAUGE));
		}
		return RepeatedRatings.among(depths);
	}

	private static RatedDepth rating(PatientId patient, ScarId scar, LocalDate day, StaffId assessor, boolean repeat,
			double depth, @Nullable DepthMethod method) {
		return new RatedDepth(patient, scar, day, assessor, repeat, depth, method);
	}

}
