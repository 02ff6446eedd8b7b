package org.seriatim.followup.domain;

import java.util.List;

import org.junit.jupiter.api.Test;

import org.seriatim.assessment.RepeatedRatings;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.LumpCurve;
import org.seriatim.followup.Advice;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.SeriesFacts;
import org.seriatim.statistics.CurveMasses;
import org.seriatim.treatment.SeriesStatus;

import static org.assertj.core.api.Assertions.assertThat;
import static org.seriatim.followup.domain.SeriesFixture.FindingFixture.a;
import static org.seriatim.followup.domain.SeriesFixture.FindingFixture.aLump;
import static org.seriatim.followup.domain.SeriesFixture.aSeries;
import static org.seriatim.followup.domain.SeriesFixture.aSeriesNotHeardOf;
import static org.seriatim.followup.domain.SeriesFixture.day;

/** The record as it was known at the end of a day. */
class SeriesFactsTests {

	private static Advice adviceAsOf(SeriesFixture series, int day) {
		return IntervalAdvice
			.advise(series.facts().asOf(day(day)), ProtocolFixture.firstProtocol(),
					new LumpCurve(0, new CurveMasses(0, List.of())), new RepeatedRatings(null, null))
			.orElseThrow();
	}

	@Test
	void leavesOutALaterSession() {
		var series = aSeries().earlierSessions(-50);

		assertThat(adviceAsOf(series, -1).sessionNumber()).isEqualTo(1);
		assertThat(adviceAsOf(series, 0).sessionNumber()).isEqualTo(2);
	}

	@Test
	void leavesOutALaterFinding() {
		var series = aSeries().with(a(FindingKind.BURN).notedOn(5));

		assertThat(adviceAsOf(series, 4).status()).isNotEqualTo(AdviceStatus.HOLD);
		assertThat(adviceAsOf(series, 5).status()).isEqualTo(AdviceStatus.HOLD);
	}

	@Test
	void leavesOutALaterClosing() {
		var series = aSeries().with(a(FindingKind.BURN).closedOn(9));

		assertThat(adviceAsOf(series, 8).status()).isEqualTo(AdviceStatus.HOLD);
		assertThat(adviceAsOf(series, 9).status()).isNotEqualTo(AdviceStatus.HOLD);
	}

	@Test
	void leavesOutLaterObservations() {
		var series = aSeriesNotHeardOf().with(aLump().presentOn(15).absentOn(22));

		assertThat(adviceAsOf(series, 14).ruleWords()).containsExactly("unknown");
		assertThat(adviceAsOf(series, 15).ruleWords()).containsExactly("persistent", "still_there");
		assertThat(adviceAsOf(series, 21).ruleWords()).containsExactly("persistent", "still_there");
		assertThat(adviceAsOf(series, 22).ruleWords()).containsExactly("persistent");
	}

	@Test
	void leavesOutALaterDateOfDisappearance() {
		var series = aSeriesNotHeardOf().with(aLump().goneOn(6));

		assertThat(adviceAsOf(series, 5).ruleWords()).containsExactly("unknown");
		assertThat(adviceAsOf(series, 6).ruleWords()).containsExactly("base");
	}

	@Test
	void leavesOutLaterContactsAndAssessments() {
		assertThat(adviceAsOf(aSeriesNotHeardOf().reached(3), 2).ruleWords()).containsExactly("unknown");
		assertThat(adviceAsOf(aSeriesNotHeardOf().reached(3), 3).ruleWords()).containsExactly("base");
		assertThat(adviceAsOf(aSeriesNotHeardOf().assessed(3), 2).ruleWords()).containsExactly("unknown");
		assertThat(adviceAsOf(aSeriesNotHeardOf().assessed(3), 3).ruleWords()).containsExactly("base");
	}

	@Test
	void leavesOutLaterRatings() {
		var facts = aSeries().scar("A", -10, 0.5, 20, 0.4).facts();

		assertThat(facts.asOf(day(19)).scars().get(0).ratings()).hasSize(1);
		assertThat(facts.asOf(day(20)).scars().get(0).ratings()).hasSize(2);
	}

	@Test
	void isOpenUntilTheDayOnWhichItEnded() {
		var facts = aSeries().ended(SeriesStatus.COMPLETED, 30).facts();

		assertThat(facts.asOf(day(29)).status()).isEqualTo(SeriesStatus.OPEN);
		assertThat(facts.asOf(day(29)).endedOn()).isNull();
		assertThat(facts.asOf(day(30)).status()).isEqualTo(SeriesStatus.COMPLETED);
		assertThat(facts.asOf(day(30)).endedOn()).isEqualTo(day(30));
	}

	@Test
	void isTheSameAfterTheLastRecord() {
		var facts = aSeries().with(aLump().presentOn(15).absentOn(22)).scar("A", -10, 0.5, 20, 0.4).facts();

		assertThat(facts.asOf(day(22))).isEqualTo(facts);
	}

	@Test
	void survivesItsStoredForm() {
		var facts = aSeries().with(aLump().inScar("A").presentOn(15).goneOn(22)).scar("A", -10, 0.5, 20, 0.4).facts();

		assertThat(AdviceJson.read(AdviceJson.write(facts), SeriesFacts.class)).isEqualTo(facts);
	}

}
