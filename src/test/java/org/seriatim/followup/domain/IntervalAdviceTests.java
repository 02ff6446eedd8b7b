package org.seriatim.followup.domain;

import java.util.List;
import java.util.stream.Stream;

import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.RatedScar;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.RepeatedRatings;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarRating;
import org.seriatim.assessment.ScarType;
import org.seriatim.finding.ContactOutcome;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.LumpCurve;
import org.seriatim.followup.Advice;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.Argument;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Reason;
import org.seriatim.followup.Rule;
import org.seriatim.patient.SkinThickness;
import org.seriatim.statistics.CurveMasses;
import org.seriatim.statistics.Detectability;
import org.seriatim.statistics.Mass;
import org.seriatim.treatment.ProtocolVersion;
import org.seriatim.treatment.ProtocolVersion.SkinShift;
import org.seriatim.treatment.SeriesStatus;

import static org.assertj.core.api.Assertions.assertThat;
import static org.seriatim.followup.domain.ProtocolFixture.firstProtocol;
import static org.seriatim.followup.domain.ProtocolFixture.protocol;
import static org.seriatim.followup.domain.SeriesFixture.FindingFixture.a;
import static org.seriatim.followup.domain.SeriesFixture.FindingFixture.aLump;
import static org.seriatim.followup.domain.SeriesFixture.aSeries;
import static org.seriatim.followup.domain.SeriesFixture.aSeriesNotHeardOf;
import static org.seriatim.followup.domain.SeriesFixture.day;

class IntervalAdviceTests {

	private static final RepeatedRatings NO_RATINGS = new RepeatedRatings(null, null);

	/** Smallest detectable change 0.2 on the scale of logarithms. */
	private static final RepeatedRatings RATINGS = new RepeatedRatings(new Detectability.Known(0.0722, 0.2, 10, 5),
			null);

	private static final LumpCurve NO_CURVE = new LumpCurve(0, new CurveMasses(0, List.of()));

	private static LumpCurve curve(int lumps, Mass... masses) {
		return new LumpCurve(5, new CurveMasses(lumps, List.of(masses)));
	}

	private static Advice advise(SeriesFixture series) {
		return advise(series, firstProtocol());
	}

	private static Advice advise(SeriesFixture series, ProtocolVersion protocol) {
		return IntervalAdvice.advise(series.facts(), protocol, NO_CURVE, NO_RATINGS).orElseThrow();
	}

	private static Advice advise(SeriesFixture series, LumpCurve curve) {
		return IntervalAdvice.advise(series.facts(), firstProtocol(), curve, NO_RATINGS).orElseThrow();
	}

	private static Reason reason(Advice advice, Rule rule) {
		return advice.reasons().stream().filter((reason) -> reason.rule() == rule).findFirst().orElseThrow();
	}

	@Nested
	class AboutWhat {

		@Test
		void isAboutTheLastSessionOfTheSeries() {
			var advice = advise(aSeries().earlierSessions(-100, -50));

			assertThat(advice.series()).isEqualTo(SeriesFixture.SERIES);
			assertThat(advice.sessionNumber()).isEqualTo(3);
			assertThat(advice.treatedOn()).isEqualTo(day(0));
			assertThat(advice.protocolVersion()).isEqualTo(1);
		}

		@Test
		void staysWithTheSeriesWhenAnotherOneHasBegun() {
			var advice = advise(aSeries().laterSeriesOn(30).with(aLump().ofSession(2).notedOn(30).presentOn(50)));

			assertThat(advice.sessionNumber()).isEqualTo(1);
			assertThat(advice.ruleWords()).containsExactly("base");
		}

		@ParameterizedTest
		@EnumSource(names = { "COMPLETED", "STOPPED" })
		void givesNoneOnAnEndedSeries(SeriesStatus ended) {
			assertThat(IntervalAdvice.advise(aSeries().ended(ended, 20).facts(), firstProtocol(), NO_CURVE, NO_RATINGS))
				.isEmpty();
			assertThat(
					IntervalAdvice.advise(aSeries().ended(ended, null).facts(), firstProtocol(), NO_CURVE, NO_RATINGS))
				.isEmpty();
		}

		@Test
		void givesNoneBeforeTheFirstSession() {
			assertThat(IntervalAdvice.advise(aSeries().facts().asOf(day(-1)), firstProtocol(), NO_CURVE, NO_RATINGS))
				.isEmpty();
		}

	}

	@Nested
	class Base {

		@Test
		void opensTheWindowAfterTheUsualInterval() {
			var advice = advise(aSeries());

			assertThat(advice.status()).isEqualTo(AdviceStatus.WINDOW);
			assertThat(advice.ruleWords()).containsExactly("base");
			assertThat(advice.first()).isEqualTo(day(42));
			assertThat(advice.target()).isEqualTo(day(42));
			assertThat(advice.last()).isEqualTo(day(56));
			assertThat(advice.firstIfLumpPersisted()).isNull();
		}

		@Test
		void followsTheProtocol() {
			var advice = advise(aSeries(), protocol(35, 10, 56, SkinShift.NOT_SET));

			assertThat(advice.first()).isEqualTo(day(35));
			assertThat(advice.last()).isEqualTo(day(45));
		}

		@Test
		void saysSoBesideOtherRulesButNotInFiles() {
			var advice = advise(aSeries().with(aLump().presentOn(15).absentOn(22)));

			assertThat(advice.follows(Rule.BASE)).isTrue();
			assertThat(advice.ruleWords()).containsExactly("persistent");
		}

	}

	@Nested
	class Skin {

		private final ProtocolVersion shifted = protocol(42, 14, 56, new SkinShift(-3, 0, 7));

		@Test
		void shiftsTheUsualInterval() {
			var thick = advise(aSeries().skin(SkinThickness.THICK), this.shifted);
			var thin = advise(aSeries().skin(SkinThickness.THIN), this.shifted);

			assertThat(thick.ruleWords()).containsExactly("skin");
			assertThat(thick.first()).isEqualTo(day(49));
			assertThat(thin.first()).isEqualTo(day(39));
			assertThat(reason(thin, Rule.SKIN).sentence().key()).isEqualTo("followup.rule.skin.earlier");
		}

		@Test
		void shiftsTheLongerIntervalToo() {
			var persistent = advise(aSeries().skin(SkinThickness.THICK).with(aLump().presentOn(15).absentOn(22)),
					this.shifted);
			var possibly = advise(aSeries().skin(SkinThickness.THICK).with(aLump().presentOn(7).absentOn(15)),
					this.shifted);
			var unknown = advise(aSeriesNotHeardOf().skin(SkinThickness.THICK), this.shifted);

			assertThat(persistent.first()).isEqualTo(day(63));
			assertThat(possibly.first()).isEqualTo(day(63));
			assertThat(unknown.first()).isEqualTo(day(49));
			assertThat(unknown.firstIfLumpPersisted()).isEqualTo(day(63));
		}

		@Test
		void saysNothingWhereTheShiftIsNotSetOrTheSkinNotRecorded() {
			assertThat(advise(aSeries().skin(SkinThickness.MEDIUM), this.shifted).ruleWords()).containsExactly("base");
			assertThat(advise(aSeries(), this.shifted).ruleWords()).containsExactly("base");
			assertThat(advise(aSeries(), this.shifted).first()).isEqualTo(day(42));
		}

	}

	@Nested
	class Persistent {

		@Test
		void waitsForTheLongerIntervalAfterALumpThatLastedForCertain() {
			var advice = advise(aSeries().with(aLump().presentOn(15).absentOn(22)));

			assertThat(advice.status()).isEqualTo(AdviceStatus.WINDOW);
			assertThat(advice.ruleWords()).containsExactly("persistent");
			assertThat(advice.first()).isEqualTo(day(56));
			assertThat(advice.last()).isEqualTo(day(70));
		}

		@Test
		void doesNotFireOnTheThresholdItself() {
			var advice = advise(aSeries().with(aLump().presentOn(13).absentOn(14)));

			assertThat(advice.ruleWords()).containsExactly("base");
		}

		@Test
		void neverShortensTheUsualInterval() {
			var advice = advise(aSeries().with(aLump().presentOn(15).absentOn(22)),
					protocol(70, 14, 56, SkinShift.NOT_SET));

			assertThat(advice.first()).isEqualTo(day(70));
			assertThat(advice.ruleWords()).containsExactly("persistent");
		}

		@Test
		void looksAtLumpsOfThatSessionOnly() {
			var advice = advise(aSeries().earlierSessions(-60)
				.with(aLump().ofSession(1).notedOn(-60).presentOn(-40).absentOn(-30))
				.with(aLump().ofNoSession().presentOn(20)));

			assertThat(advice.ruleWords()).containsExactly("base");
		}

		@Test
		void restsOnTheLumpsThatLasted() {
			var advice = advise(aSeries().with(aLump().inScar("A").presentOn(15).absentOn(22))
				.with(aLump().inScar("B").presentOn(3).absentOn(7)));

			assertThat(reason(advice, Rule.PERSISTENT).evidence()).singleElement().satisfies((evidence) -> {
				assertThat(evidence.kind()).isEqualTo(Evidence.Kind.FINDING);
				assertThat(evidence.label()).contains(Argument.text("A"));
			});
		}

		@Test
		void namesTheRegionOfALumpInNoScar() {
			var advice = advise(aSeries().with(aLump().inRegion(Region.CHIN).presentOn(15).absentOn(22)));

			assertThat(reason(advice, Rule.PERSISTENT).evidence()).singleElement()
				.satisfies((evidence) -> assertThat(evidence.label()).contains(Evidence.word(Region.CHIN)));
		}

	}

	@Nested
	class PossiblyPersistent {

		@Test
		void waitsForTheLongerIntervalAfterALumpThatMayHaveLasted() {
			var advice = advise(aSeries().with(aLump().presentOn(7).absentOn(15)));

			assertThat(advice.status()).isEqualTo(AdviceStatus.WINDOW);
			assertThat(advice.ruleWords()).containsExactly("possibly_persistent");
			assertThat(advice.first()).isEqualTo(day(56));
		}

		@Test
		void firesForALumpLastSeenOnTheThreshold() {
			assertThat(advise(aSeries().with(aLump().presentOn(14).absentOn(15))).ruleWords())
				.containsExactly("possibly_persistent");
		}

		@Test
		void doesNotFireForALumpSeenAbsentOnTheThreshold() {
			assertThat(advise(aSeries().with(aLump().presentOn(7).absentOn(14))).ruleWords()).containsExactly("base");
		}

		@Test
		void isSilentBesideALumpThatLastedForCertain() {
			var advice = advise(
					aSeries().with(aLump().presentOn(7).absentOn(15)).with(aLump().presentOn(16).absentOn(20)));

			assertThat(advice.ruleWords()).containsExactly("persistent");
		}

		@Test
		void needsAKnownEnd() {
			assertThat(advise(aSeries().with(aLump().presentOn(7))).ruleWords()).containsExactly("unknown");
		}

	}

	@Nested
	class Settled {

		@Test
		void waitsUntilTheLastLumpHasBeenGoneForTheMargin() {
			var advice = advise(
					aSeries().with(aLump().presentOn(40).absentOn(45)).with(aLump().presentOn(20).absentOn(30)));

			assertThat(advice.ruleWords()).containsExactly("persistent", "settled");
			assertThat(advice.first()).isEqualTo(day(45 + 14));
			assertThat(advice.target()).isEqualTo(day(45 + 14));
			assertThat(advice.last()).isEqualTo(day(45 + 14 + 14));
		}

		@Test
		void isSilentWhenTheMarginEndsOnTheFirstDaySoFar() {
			assertThat(advise(aSeries().with(aLump().presentOn(40).absentOn(42))).ruleWords())
				.containsExactly("persistent");
			assertThat(advise(aSeries().with(aLump().presentOn(40).absentOn(43))).ruleWords())
				.containsExactly("persistent", "settled");
		}

		@Test
		void ignoresTheShiftForTheSkin() {
			var advice = advise(aSeries().skin(SkinThickness.THICK).with(aLump().presentOn(50).absentOn(60)),
					protocol(42, 14, 56, new SkinShift(0, 0, 7)));

			assertThat(advice.first()).isEqualTo(day(60 + 14));
		}

	}

	@Nested
	class StillThere {

		/** Of what is beyond day 20, 0.6 has gone by day 21 and 0.94 by day 50. */
		private final LumpCurve curve = curve(30, new Mass(0, 7, 0.5), new Mass(14, 21, 0.3), new Mass(45, 50, 0.17),
				new Mass(50, Double.POSITIVE_INFINITY, 0.03));

		@Test
		void asksAgainFirst() {
			var advice = advise(aSeries().with(aLump().presentOn(20)), this.curve);

			assertThat(advice.status()).isEqualTo(AdviceStatus.WAIT_FOR_CONTACT);
			assertThat(advice.ruleWords()).containsExactly("persistent", "still_there");
		}

		@Test
		void waitsProvisionallyUntilSuchALumpHasProbablyGoneAndSettled() {
			var advice = advise(aSeries().with(aLump().presentOn(20)), this.curve);

			assertThat(advice.first()).isEqualTo(day(50 + 14));
			assertThat(advice.last()).isEqualTo(day(50 + 14 + 14));
			assertThat(reason(advice, Rule.STILL_THERE).sentence().key()).isEqualTo("followup.rule.still-there.until");
		}

		@Test
		void keepsALaterFirstDay() {
			var early = curve(30, new Mass(14, 21, 0.95), new Mass(45, 50, 0.05));

			assertThat(advise(aSeries().with(aLump().presentOn(20)), early).first()).isEqualTo(day(56));
		}

		@Test
		void looksAtTheLumpLastSeenLatest() {
			var curve = curve(30, new Mass(14, 21, 0.9), new Mass(21, 80, 0.1));

			var advice = advise(aSeries().with(aLump().presentOn(16)).with(aLump().presentOn(21)), curve);

			assertThat(advice.first()).isEqualTo(day(80 + 14));
		}

		@Test
		void countsMassThatEndsOnTheDayOnWhichItWasPresentAsGone() {
			var curve = curve(30, new Mass(14, 20, 0.5), new Mass(20, 60, 0.5));

			assertThat(advise(aSeries().with(aLump().presentOn(20)), curve).first()).isEqualTo(day(60 + 14));
		}

		@Test
		void addsNothingFromACurveOfFewerLumpsThanTheProtocolDemands() {
			var advice = advise(aSeries().with(aLump().presentOn(20)), curve(29, new Mass(20, 100, 1)));

			assertThat(advice.first()).isEqualTo(day(56));
			assertThat(reason(advice, Rule.STILL_THERE).sentence().key())
				.isEqualTo("followup.rule.still-there.too-few");
		}

		@Test
		void addsNothingFromACurveThatHasNoMassBeyond() {
			var advice = advise(aSeries().with(aLump().presentOn(20)), curve(30, new Mass(10, 20, 1)));

			assertThat(advice.first()).isEqualTo(day(56));
			assertThat(reason(advice, Rule.STILL_THERE).sentence().key())
				.isEqualTo("followup.rule.still-there.beyond-curve");
		}

		@Test
		void addsNothingFromACurveThatNeverGetsThere() {
			var neverGone = curve(30, new Mass(20, 30, 0.5), new Mass(30, Double.POSITIVE_INFINITY, 0.5));
			var afterAYear = curve(30, new Mass(20, 30, 0.5), new Mass(30, 366, 0.5));

			for (var curve : List.of(neverGone, afterAYear)) {
				var advice = advise(aSeries().with(aLump().presentOn(20)), curve);
				assertThat(advice.first()).isEqualTo(day(56));
				assertThat(reason(advice, Rule.STILL_THERE).sentence().key())
					.isEqualTo("followup.rule.still-there.never");
			}
		}

		@Test
		void reachesAsFarAsDay365() {
			var curve = curve(30, new Mass(20, 30, 0.5), new Mass(30, 365, 0.5));

			assertThat(advise(aSeries().with(aLump().presentOn(20)), curve).first()).isEqualTo(day(365 + 14));
		}

		@Test
		void standsBesideALumpThatHasGoneAndSettled() {
			var advice = advise(aSeries().with(aLump().presentOn(20)).with(aLump().presentOn(40).absentOn(50)),
					NO_CURVE);

			assertThat(advice.ruleWords()).containsExactly("persistent", "settled", "still_there");
			assertThat(advice.first()).isEqualTo(day(64));
		}

		@Test
		void isSilentOnceItWasSeenAbsent() {
			assertThat(advise(aSeries().with(aLump().presentOn(20).absentOn(27)), this.curve).ruleWords())
				.containsExactly("persistent");
		}

		@Test
		void believesThePatientsOwnDateOfDisappearance() {
			assertThat(advise(aSeries().with(aLump().presentOn(16).goneOn(20)), this.curve).ruleWords())
				.containsExactly("persistent");
		}

	}

	@Nested
	class Unknown {

		@Test
		void asksWhetherALumpIsStillThereThatNobodyLookedForAgain() {
			var advice = advise(aSeries().with(aLump().presentOn(14)));

			assertThat(advice.status()).isEqualTo(AdviceStatus.WAIT_FOR_CONTACT);
			assertThat(advice.ruleWords()).containsExactly("unknown");
			assertThat(advice.first()).isEqualTo(day(42));
			assertThat(advice.last()).isEqualTo(day(56));
			assertThat(advice.firstIfLumpPersisted()).isEqualTo(day(56));
			assertThat(reason(advice, Rule.UNKNOWN).sentence().key()).isEqualTo("followup.rule.unknown.not-seen-again");
		}

		@Test
		void asksAfterALumpThatAContactToldOfAndNobodyRecorded() {
			var advice = advise(aSeriesNotHeardOf().reachedWithLump(3).reached(15));

			assertThat(advice.ruleWords()).containsExactly("unknown");
			assertThat(reason(advice, Rule.UNKNOWN).sentence().key()).isEqualTo("followup.rule.unknown.reported");
		}

		@Test
		void asksWhenNobodyHasHeardOfThePatient() {
			assertThat(advise(aSeriesNotHeardOf()).ruleWords()).containsExactly("unknown");
			assertThat(advise(aSeriesNotHeardOf().noAnswer(15)).ruleWords()).containsExactly("unknown");
			assertThat(advise(aSeriesNotHeardOf().contact(15, ContactOutcome.DECLINED, null)).ruleWords())
				.containsExactly("unknown");
			assertThat(reason(advise(aSeriesNotHeardOf()), Rule.UNKNOWN).sentence().key())
				.isEqualTo("followup.rule.unknown.not-heard-of");
		}

		@Test
		void knowsFromAContactThatReached() {
			assertThat(advise(aSeriesNotHeardOf().contact(3, ContactOutcome.REACHED, null)).ruleWords())
				.containsExactly("base");
		}

		@Test
		void knowsFromAnAssessmentAfterTheSession() {
			assertThat(advise(aSeriesNotHeardOf().assessed(0)).ruleWords()).containsExactly("unknown");
			assertThat(advise(aSeriesNotHeardOf().assessed(1)).ruleWords()).containsExactly("base");
		}

		@Test
		void doesNotTakeAContactAfterAnEarlierSession() {
			var series = aSeriesNotHeardOf().earlierSessions(-50).contactAfterEarlierSession(1, -40, false);

			assertThat(advise(series).ruleWords()).containsExactly("unknown");
		}

		@Test
		void isSilentOnReportsOnceALumpIsOnRecord() {
			assertThat(
					advise(aSeriesNotHeardOf().reachedWithLump(3).with(aLump().presentOn(3).absentOn(7))).ruleWords())
				.containsExactly("base");
		}

		@Test
		void isSilentWithoutAContactOnceEveryLumpWasSeenAbsent() {
			assertThat(advise(aSeriesNotHeardOf().with(aLump().absentOn(7))).ruleWords()).containsExactly("base");
		}

		@Test
		void keepsTheFirstDayIfALumpPersistedAtLeastAtTheFirstDay() {
			var advice = advise(aSeries().with(aLump().presentOn(50).absentOn(55)).with(aLump().presentOn(7)));

			assertThat(advice.ruleWords()).containsExactly("persistent", "settled", "unknown");
			assertThat(advice.first()).isEqualTo(day(69));
			assertThat(advice.firstIfLumpPersisted()).isEqualTo(day(69));
		}

	}

	@Nested
	class Hold {

		@ParameterizedTest
		@EnumSource(names = { "INFECTION_SPREADING", "VASCULAR_COMPROMISE", "VISUAL_SYMPTOM", "NEURO_SYMPTOM",
				"SKIN_NECROSIS", "ANAPHYLAXIS", "LA_TOXICITY", "METHAEMOGLOBINAEMIA", "INFECTION_LOCAL",
				"HERPES_REACTIVATION", "DELAYED_INFLAMMATORY_NODULE", "GRANULOMA", "BURN", "ALLERGY_LOCAL" })
		void holdsForRedFlagsAndTheKindsThatHold(FindingKind kind) {
			var advice = advise(aSeries().with(a(kind)));

			assertThat(advice.status()).isEqualTo(AdviceStatus.HOLD);
			assertThat(advice.ruleWords()).containsExactly("hold");
		}

		@ParameterizedTest
		@EnumSource(mode = EnumSource.Mode.EXCLUDE,
				names = { "INFECTION_SPREADING", "VASCULAR_COMPROMISE", "VISUAL_SYMPTOM", "NEURO_SYMPTOM",
						"SKIN_NECROSIS", "ANAPHYLAXIS", "LA_TOXICITY", "METHAEMOGLOBINAEMIA", "INFECTION_LOCAL",
						"HERPES_REACTIVATION", "DELAYED_INFLAMMATORY_NODULE", "GRANULOMA", "BURN", "ALLERGY_LOCAL" })
		void doesNotHoldForAnotherKindOfGradeTwo(FindingKind kind) {
			assertThat(advise(aSeries().with(a(kind).ofGrade(2))).status()).isNotEqualTo(AdviceStatus.HOLD);
		}

		@Test
		void holdsForASevereOrSeriousFindingOfAnyKind() {
			assertThat(advise(aSeries().with(a(FindingKind.BRUISE).ofGrade(3))).status()).isEqualTo(AdviceStatus.HOLD);
			assertThat(advise(aSeries().with(a(FindingKind.BRUISE).serious())).status()).isEqualTo(AdviceStatus.HOLD);
			assertThat(advise(aSeries().with(a(FindingKind.BRUISE).ofGrade(null))).status())
				.isEqualTo(AdviceStatus.WINDOW);
		}

		@Test
		void holdsForAnyFindingOfThePatient() {
			assertThat(advise(aSeries().with(a(FindingKind.BURN).ofNoSession())).status()).isEqualTo(AdviceStatus.HOLD);
			assertThat(advise(aSeries().earlierSessions(-500).with(a(FindingKind.BURN).ofSession(1).notedOn(-499)))
				.status()).isEqualTo(AdviceStatus.HOLD);
		}

		@Test
		void isNotLiftedByAbsence() {
			assertThat(advise(aSeries().with(a(FindingKind.BURN).absentOn(10).goneOn(9))).status())
				.isEqualTo(AdviceStatus.HOLD);
		}

		@Test
		void isLiftedByAPractitionersClosing() {
			assertThat(advise(aSeries().with(a(FindingKind.BURN).closedOn(10))).status())
				.isEqualTo(AdviceStatus.WINDOW);
		}

		@Test
		void emptiesTheWindowAndKeepsTheOtherReasons() {
			var advice = advise(aSeriesNotHeardOf().with(a(FindingKind.BURN)));

			assertThat(advice.ruleWords()).containsExactly("hold", "unknown");
			assertThat(advice.first()).isNull();
			assertThat(advice.target()).isNull();
			assertThat(advice.last()).isNull();
			assertThat(advice.firstIfLumpPersisted()).isNull();
		}

		@Test
		void takesPrecedenceOverEverything() {
			var advice = IntervalAdvice
				.advise(plateau().with(aLump().presentOn(20)).with(a(FindingKind.BURN)).facts(), firstProtocol(),
						NO_CURVE, RATINGS)
				.orElseThrow();

			assertThat(advice.status()).isEqualTo(AdviceStatus.HOLD);
			assertThat(advice.ruleWords()).containsExactly("hold", "persistent", "plateau", "still_there");
		}

	}

	@Nested
	class Plateau {

		private Advice advise(SeriesFixture series, RepeatedRatings ratings) {
			return IntervalAdvice.advise(series.facts(), firstProtocol(), NO_CURVE, ratings).orElseThrow();
		}

		private boolean fires(SeriesFixture series) {
			return advise(series, RATINGS).follows(Rule.PLATEAU);
		}

		@Test
		void asksToReviewThePlanAndStillShowsTheWindow() {
			var advice = advise(plateau(), RATINGS);

			assertThat(advice.status()).isEqualTo(AdviceStatus.REVIEW_PLAN);
			assertThat(advice.ruleWords()).containsExactly("plateau");
			assertThat(advice.first()).isEqualTo(day(42));
			assertThat(advice.last()).isEqualTo(day(56));
		}

		@Test
		void comesAfterWaitingForAContact() {
			assertThat(advise(plateau().with(aLump().presentOn(3)), RATINGS).status())
				.isEqualTo(AdviceStatus.WAIT_FOR_CONTACT);
		}

		@Test
		void needsAKnownRepeatability() {
			assertThat(advise(plateau(), NO_RATINGS).follows(Rule.PLATEAU)).isFalse();
			assertThat(advise(plateau(), new RepeatedRatings(new Detectability.Known(0.07, 0.2, 9, 5), null))
				.follows(Rule.PLATEAU)).isFalse();
			assertThat(advise(plateau(), new RepeatedRatings(null, new Detectability.Known(0.07, 0.2, 10, 5)))
				.follows(Rule.PLATEAU)).isTrue();
		}

		@Test
		void needsTheStageAfterTheLastSession() {
			var series = aSeries().earlierSessions(-84, -42);
			Stream.of("A", "B", "C").forEach((scar) -> series.scar(scar, -84, 1, -42, 1, 0, 1));

			assertThat(fires(series)).isFalse();
		}

		@Test
		void needsThreeSessions() {
			var series = aSeries().earlierSessions(-42);
			Stream.of("A", "B", "C").forEach((scar) -> series.scar(scar, -42, 1, 0, 1, 30, 1));

			assertThat(fires(series)).isFalse();
		}

		@Test
		void needsThreeScarsInEachStep() {
			var lastStepOfTwo = aSeries().earlierSessions(-84, -42)
				.scar("A", -42, 1, 0, 1, 30, 1)
				.scar("B", -42, 1, 0, 1, 30, 1)
				.scar("C", -42, 1, 0, 1);
			var earlierStepOfTwo = aSeries().earlierSessions(-84, -42)
				.scar("A", -42, 1, 0, 1, 30, 1)
				.scar("B", -42, 1, 0, 1, 30, 1)
				.scar("C", 0, 1, 30, 1);

			assertThat(fires(lastStepOfTwo)).isFalse();
			assertThat(fires(earlierStepOfTwo)).isFalse();
		}

		@Test
		void isSilentWhenEitherStepFellBeyondTheErrorOfItsMean() {
			// the error of a mean over 3 scars: 0.2 / sqrt(3) = 0.11547, a ratio of
			// 0.89095
			assertThat(fires(threeScars(1, 0.891, 0.891 * 0.891))).isTrue();
			assertThat(fires(threeScars(1, 0.8909, 0.8909 * 0.891))).isFalse();
			assertThat(fires(threeScars(1, 0.891, 0.891 * 0.8909))).isFalse();
		}

		@Test
		void firesWhenScarsBecomeDeeper() {
			assertThat(fires(threeScars(1, 1.3, 1.5))).isTrue();
		}

		@Test
		void leavesResolvedScarsOutOfTheMeans() {
			assertThat(fires(threeScars(1, 1, 1).scar("D", -42, 1, 0, 0.5, 30, 0))).isFalse();
			assertThat(fires(threeScars(1, 1, 1).scar("D", -42, 1, 0, 0, 30, 0))).isTrue();
			var resolved = aSeries().earlierSessions(-84, -42)
				.scar("A", -42, 1, 0, 1, 30, 1)
				.scar("B", -42, 1, 0, 1, 30, 1)
				.scar("C", -42, 1, 0, 1, 30, 0);
			assertThat(fires(resolved)).isFalse();
		}

		@Test
		void leavesScarsWithoutDepthStatisticsOut() {
			var series = aSeries().earlierSessions(-84, -42)
				.scar("A", -42, 1, 0, 1, 30, 1)
				.scar("B", -42, 1, 0, 1, 30, 1)
				.scar("C", ScarType.KELOID, -42, 1, 0, 1, 30, 1);

			assertThat(fires(series)).isFalse();
		}

		@Test
		void comparesDepthsOfOneMethodOnly() {
			var series = aSeries().earlierSessions(-84, -42)
				.scar("A", -42, 1, 0, 1, 30, 1)
				.scar("B", -42, 1, 0, 1, 30, 1)
				.scar(new RatedScar(ScarId.next(), "C", Region.NOSE, ScarType.BOXCAR,
						List.of(new ScarRating(day(-42), 1.0, DepthMethod.GAUGE, null),
								new ScarRating(day(0), 1.0, DepthMethod.GAUGE, null),
								new ScarRating(day(30), 1.0, DepthMethod.ESTIMATED, null))));

			assertThat(fires(series)).isFalse();
		}

		@Test
		void showsTheFiguresOfBothSteps() {
			var reason = reason(advise(threeScars(1, 0.95, 0.95), RATINGS), Rule.PLATEAU);

			var figures = reason.sentence().arguments().stream().map((argument) -> Double.valueOf(argument.value()));
			assertThat(figures.map((figure) -> Math.round(figure * 100) / 100.0)).containsExactly(2.0, 3.0, 5.0, 10.91,
					3.0, 3.0, 0.0, 10.91);
			assertThat(reason.evidence()).extracting(Evidence::kind)
				.containsExactly(Evidence.Kind.SCAR, Evidence.Kind.SCAR, Evidence.Kind.SCAR,
						Evidence.Kind.REPEATABILITY);
		}

		@Test
		void endsItsLastStageWhereTheNextSeriesBegins() {
			assertThat(fires(threeScars(1, 1, 1).laterSeriesOn(30))).isTrue();
			assertThat(fires(threeScars(1, 1, 1).laterSeriesOn(29))).isFalse();
		}

	}

	/** Three scars whose depth stays at 1 mm through three sessions and after. */
	private static SeriesFixture plateau() {
		return threeScars(1, 1, 1);
	}

	private static SeriesFixture threeScars(double stage1, double stage2, double stage3) {
		var series = aSeries().earlierSessions(-84, -42);
		Stream.of("A", "B", "C").forEach((scar) -> series.scar(scar, -42, stage1, 0, stage2, 30, stage3));
		return series;
	}

	@Nested
	class OpenSkin {

		@Test
		void cautionsWhileNobodyHasSeenAFlareGone() {
			var never = advise(aSeries().with(a(FindingKind.ACNE_FLARE)));
			var present = advise(aSeries().with(a(FindingKind.ACNE_FLARE).absentOn(5).presentOn(9)));

			assertThat(never.ruleWords()).containsExactly("open_skin");
			assertThat(present.ruleWords()).containsExactly("open_skin");
		}

		@Test
		void isSilentOnceTheLastObservationIsAbsent() {
			assertThat(advise(aSeries().with(a(FindingKind.ACNE_FLARE).presentOn(5).absentOn(9))).ruleWords())
				.containsExactly("base");
		}

		@Test
		void takesPresentWhereOneDayHasBothReports() {
			assertThat(advise(aSeries().with(a(FindingKind.ACNE_FLARE).absentOn(9).presentOn(9))).ruleWords())
				.containsExactly("open_skin");
		}

		@Test
		void looksAtEveryFlareOfThePatient() {
			assertThat(advise(aSeries().earlierSessions(-500)
				.with(a(FindingKind.ACNE_FLARE).ofSession(1).notedOn(-490))
				.with(a(FindingKind.ACNE_FLARE).absentOn(3))).ruleWords()).containsExactly("open_skin");
		}

		@Test
		void changesNoDateAndStandsAmongTheCautions() {
			var advice = advise(aSeries().with(a(FindingKind.ACNE_FLARE)));

			assertThat(advice.status()).isEqualTo(AdviceStatus.WINDOW);
			assertThat(advice.first()).isEqualTo(day(42));
			assertThat(advice.cautionsOn(day(0))).extracting((caution) -> caution.sentence().key())
				.containsExactly("followup.rule.open-skin");
		}

	}

	@Test
	void givesTheSameAdviceInWhateverOrderTheRecordIsRead() {
		var one = aSeries().with(aLump().inScar("A").presentOn(3).absentOn(22)).with(aLump().inScar("B").presentOn(9));
		var other = aSeries().with(aLump().inScar("B").presentOn(9))
			.with(aLump().inScar("A").absentOn(22).presentOn(3));

		assertThat(advise(one).ruleWords()).isEqualTo(advise(other).ruleWords())
			.containsExactly("possibly_persistent", "unknown");
		assertThat(advise(one).first()).isEqualTo(advise(other).first());
	}

}
