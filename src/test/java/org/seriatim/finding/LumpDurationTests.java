package org.seriatim.finding;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

import org.seriatim.assessment.Region;
import org.seriatim.finding.LumpDuration.Contradiction;
import org.seriatim.finding.LumpDuration.DataQuestion;
import org.seriatim.treatment.SessionId;

import static org.assertj.core.api.Assertions.assertThat;

class LumpDurationTests {

	private static final LocalDate DAY_0 = LocalDate.of(2026, 2, 27);

	@Test
	void endsBetweenTheLastPresenceAndTheFirstLaterAbsence() {
		var duration = aLump().notedOn(0).presentOn(6, 3).absentOn(20, 13).duration();

		assertThat(duration.lastPresent()).isEqualTo(6);
		assertThat(duration.absentBy()).isEqualTo(13);
		assertThat(duration.recurrent()).isFalse();
		assertThat(duration.questions()).isEmpty();
	}

	@Test
	void countsTheDayOnWhichItWasFirstNoted() {
		var duration = aLump().notedOn(4).absentOn(13).duration();

		assertThat(duration.lastPresent()).isEqualTo(4);
		assertThat(duration.absentBy()).isEqualTo(13);
	}

	@Test
	void startsAtZeroWhenItWasOnlyFeltAtTheEndOfTheSession() {
		var duration = aLump().notedOn(0).absentOn(1).duration();

		assertThat(duration.lastPresent()).isZero();
		assertThat(duration.absentBy()).isEqualTo(1);
	}

	@Test
	void hasNoEndWhenItWasNeverSeenAbsent() {
		var duration = aLump().notedOn(0).presentOn(30).duration();

		assertThat(duration.isSeenGone()).isFalse();
		assertThat(duration.absentBy()).isNull();
		assertThat(duration.interval().isRightCensored()).isTrue();
		assertThat(duration.interval().left()).isEqualTo(30);
	}

	@Test
	void isPresentOnADayWithBothReports() {
		var duration = aLump().notedOn(0).presentOn(7).absentOn(7, 9).duration();

		assertThat(duration.lastPresent()).isEqualTo(7);
		assertThat(duration.absentBy()).isEqualTo(9);
		assertThat(duration.recurrent()).isFalse();
	}

	@Test
	void isNotEndedByAnAbsenceOnTheDayOnWhichItWasFirstNoted() {
		var duration = aLump().notedOn(3).absentOn(3).duration();

		assertThat(duration.lastPresent()).isEqualTo(3);
		assertThat(duration.absentBy()).isNull();
	}

	@Test
	void countsToItsLastDisappearanceWhenItCameBack() {
		var duration = aLump().notedOn(0).absentOn(5).presentOn(9).absentOn(12).duration();

		assertThat(duration.lastPresent()).isEqualTo(9);
		assertThat(duration.absentBy()).isEqualTo(12);
		assertThat(duration.recurrent()).isTrue();
	}

	@Test
	void isOpenAgainWhenItCameBackAndNobodyLookedSince() {
		var duration = aLump().notedOn(0).absentOn(5).presentOn(9).duration();

		assertThat(duration.lastPresent()).isEqualTo(9);
		assertThat(duration.absentBy()).isNull();
		assertThat(duration.recurrent()).isTrue();
	}

	@Test
	void endsOnTheDayBeforeThePatientsOwnDateAtTheEarliest() {
		var duration = aLump().notedOn(0).presentOn(6).absentOn(13).goneOn(10).duration();

		assertThat(duration.lastPresent()).isEqualTo(9);
		assertThat(duration.absentBy()).isEqualTo(10);
		assertThat(duration.questions()).isEmpty();
	}

	@Test
	void acceptsThePatientsOwnDateOnTheDayOfTheFirstAbsence() {
		var duration = aLump().notedOn(0).presentOn(6).absentOn(13).goneOn(13).duration();

		assertThat(duration.lastPresent()).isEqualTo(12);
		assertThat(duration.absentBy()).isEqualTo(13);
	}

	@Test
	void acceptsThePatientsOwnDateWithoutAnyObservation() {
		var duration = aLump().notedOn(0).goneOn(1).duration();

		assertThat(duration.lastPresent()).isZero();
		assertThat(duration.absentBy()).isEqualTo(1);
	}

	@Test
	void ignoresThePatientsOwnDateWhenItWasPresentThen() {
		var duration = aLump().notedOn(0).presentOn(10).absentOn(13).goneOn(10).duration();

		assertThat(duration.lastPresent()).isEqualTo(10);
		assertThat(duration.absentBy()).isEqualTo(13);
		assertThat(duration.questions())
			.containsExactly(new DataQuestion(Contradiction.GONE_ON_CONTRADICTED, DAY_0.plusDays(10)));
	}

	@Test
	void ignoresThePatientsOwnDateWhenItWasSeenAbsentBefore() {
		var duration = aLump().notedOn(0).presentOn(3).absentOn(8).goneOn(10).duration();

		assertThat(duration.lastPresent()).isEqualTo(3);
		assertThat(duration.absentBy()).isEqualTo(8);
		assertThat(duration.questions())
			.containsExactly(new DataQuestion(Contradiction.GONE_ON_CONTRADICTED, DAY_0.plusDays(10)));
	}

	@Test
	void acceptsThePatientsOwnDateOfTheLastDisappearanceOfALumpThatCameBack() {
		var duration = aLump().notedOn(0).absentOn(5).presentOn(9).goneOn(11).duration();

		assertThat(duration.lastPresent()).isEqualTo(10);
		assertThat(duration.absentBy()).isEqualTo(11);
		assertThat(duration.recurrent()).isTrue();
	}

	@Test
	void ignoresPresenceBeforeItWasFirstNoted() {
		var duration = aLump().notedOn(5).presentOn(2).absentOn(3, 9).duration();

		assertThat(duration.lastPresent()).isEqualTo(5);
		assertThat(duration.absentBy()).isEqualTo(9);
		assertThat(duration.recurrent()).isFalse();
		assertThat(duration.questions())
			.containsExactly(new DataQuestion(Contradiction.PRESENT_BEFORE_FIRST_NOTED, DAY_0.plusDays(2)));
	}

	@Test
	void setsADateBeforeTheSessionAside() {
		var observed = aLump().notedOn(0).presentOn(4).absentOn(-1, 9).duration();
		var noted = aLump().notedOn(-3).absentOn(9).duration();

		assertThat(observed.lastPresent()).isEqualTo(4);
		assertThat(observed.absentBy()).isEqualTo(9);
		assertThat(observed.recurrent()).isFalse();
		assertThat(observed.questions())
			.containsExactly(new DataQuestion(Contradiction.DATED_BEFORE_SESSION, DAY_0.minusDays(1)));
		assertThat(noted.lastPresent()).isZero();
		assertThat(noted.absentBy()).isEqualTo(9);
		assertThat(noted.questions())
			.containsExactly(new DataQuestion(Contradiction.DATED_BEFORE_SESSION, DAY_0.minusDays(3)));
	}

	@Test
	void tellsWhetherItLastedBeyondADay() {
		var until14 = aLump().notedOn(0).presentOn(14).absentOn(15).duration();
		var until15 = aLump().notedOn(0).presentOn(15).duration();
		var before14 = aLump().notedOn(0).presentOn(10).absentOn(14).duration();

		assertThat(until14.lastedBeyond(14)).isFalse();
		assertThat(until14.mayHaveLastedBeyond(14)).isTrue();
		assertThat(until15.lastedBeyond(14)).isTrue();
		assertThat(until15.mayHaveLastedBeyond(14)).isFalse();
		assertThat(before14.mayHaveLastedBeyond(14)).isFalse();
	}

	private static Fixture aLump() {
		return new Fixture();
	}

	private static final class Fixture {

		private final List<ObservationFacts> observations = new ArrayList<>();

		private int notedOn;

		private @Nullable LocalDate goneOn;

		Fixture notedOn(int day) {
			this.notedOn = day;
			return this;
		}

		Fixture presentOn(int... days) {
			return observed(true, days);
		}

		Fixture absentOn(int... days) {
			return observed(false, days);
		}

		private Fixture observed(boolean present, int... days) {
			for (int day : days) {
				this.observations.add(new ObservationFacts(DAY_0.plusDays(day), present));
			}
			return this;
		}

		Fixture goneOn(int day) {
			this.goneOn = DAY_0.plusDays(day);
			return this;
		}

		LumpDuration duration() {
			return LumpDuration.of(new FindingFacts(FindingId.next(), SessionId.next(), FindingKind.LUMP, Region.NOSE,
					null, null, DAY_0.plusDays(this.notedOn), 1, false, this.goneOn, null, this.observations), DAY_0);
		}

	}

}
