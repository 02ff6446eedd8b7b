package org.seriatim.followup.domain;

import java.util.List;
import java.util.Optional;

import org.junit.jupiter.api.Test;

import org.seriatim.assessment.RepeatedRatings;
import org.seriatim.finding.ContactOutcome;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.LumpCurve;
import org.seriatim.statistics.CurveMasses;

import static org.assertj.core.api.Assertions.assertThat;
import static org.seriatim.followup.domain.SeriesFixture.FindingFixture.a;
import static org.seriatim.followup.domain.SeriesFixture.FindingFixture.aLump;
import static org.seriatim.followup.domain.SeriesFixture.aSeriesNotHeardOf;
import static org.seriatim.followup.domain.SeriesFixture.day;

class ContactPlanTests {

	/** Number of the day of the next contact. */
	private static Optional<Long> next(SeriesFixture series) {
		return IntervalAdvice
			.advise(series.facts(), ProtocolFixture.firstProtocol(), new LumpCurve(0, new CurveMasses(0, List.of())),
					new RepeatedRatings(null, null))
			.map((advice) -> advice.nextContact())
			.map((day) -> day.toEpochDay() - day(0).toEpochDay());
	}

	@Test
	void followsTheDaysOfTheProtocol() {
		assertThat(next(aSeriesNotHeardOf())).contains(1L);
		assertThat(next(aSeriesNotHeardOf().reached(1))).contains(3L);
		assertThat(next(aSeriesNotHeardOf().reached(1).reached(3))).contains(7L);
		assertThat(next(aSeriesNotHeardOf().reached(7))).contains(15L);
	}

	@Test
	void goesToTheNextPlannedDayAfterAFailedContact() {
		assertThat(next(aSeriesNotHeardOf().noAnswer(3))).contains(7L);
	}

	@Test
	void countsAnUnplannedContact() {
		assertThat(next(aSeriesNotHeardOf().reached(1).reached(10))).contains(15L);
	}

	@Test
	void endsAfterThePlannedDaysWhenTheAnswerIsKnown() {
		assertThat(next(aSeriesNotHeardOf().reached(15))).isEmpty();
		assertThat(next(aSeriesNotHeardOf().reached(15).with(aLump().presentOn(7).absentOn(15)))).isEmpty();
	}

	@Test
	void goesOnEverySevenDaysWhileALumpIsThere() {
		var lump = aLump().presentOn(15);
		assertThat(next(aSeriesNotHeardOf().reachedWithLump(15).with(lump))).contains(22L);
		assertThat(next(aSeriesNotHeardOf().reachedWithLump(15).reachedWithLump(22).with(lump.presentOn(22))))
			.contains(29L);
	}

	@Test
	void goesOnEverySevenDaysWhileTheContactFails() {
		assertThat(next(aSeriesNotHeardOf().reached(7).noAnswer(15))).contains(22L);
		assertThat(next(aSeriesNotHeardOf().reached(7).noAnswer(15).noAnswer(22))).contains(29L);
		assertThat(next(aSeriesNotHeardOf().reached(7).contact(15, ContactOutcome.DECLINED, null))).contains(22L);
	}

	@Test
	void endsOnceAFailedContactWasMadeUpOnTheSameDay() {
		assertThat(next(aSeriesNotHeardOf().noAnswer(15).reached(15))).isEmpty();
		assertThat(next(aSeriesNotHeardOf().noAnswer(15).with(aLump().presentOn(3).absentOn(15)))).isEmpty();
	}

	@Test
	void goesOnAfterALumpThatWasReportedAndNotRecorded() {
		assertThat(next(aSeriesNotHeardOf().reachedWithLump(15))).contains(22L);
	}

	@Test
	void goesOnAfterALumpThatNobodyLookedForAgain() {
		assertThat(next(aSeriesNotHeardOf().reached(15).with(aLump().presentOn(7)))).contains(22L);
	}

	@Test
	void takesAnAssessmentForAContact() {
		assertThat(next(aSeriesNotHeardOf().assessed(20))).isEmpty();
		assertThat(next(aSeriesNotHeardOf().assessed(20).with(aLump().presentOn(10)))).contains(27L);
		assertThat(next(aSeriesNotHeardOf().assessed(0))).contains(1L);
	}

	@Test
	void doesNotStopForAHold() {
		assertThat(next(aSeriesNotHeardOf().reached(3).with(a(FindingKind.BURN)))).contains(7L);
	}

}
