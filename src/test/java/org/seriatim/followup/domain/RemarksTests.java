package org.seriatim.followup.domain;

import java.util.List;

import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

import org.seriatim.assessment.Region;
import org.seriatim.assessment.RepeatedRatings;
import org.seriatim.finding.LumpCurve;
import org.seriatim.followup.Advice;
import org.seriatim.followup.Argument;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Remark;
import org.seriatim.followup.Sentence;
import org.seriatim.patient.SkinThickness;
import org.seriatim.statistics.CurveMasses;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.ProtocolVersion;
import org.seriatim.treatment.ProtocolVersion.SkinShift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.seriatim.followup.domain.ProtocolFixture.firstProtocol;
import static org.seriatim.followup.domain.ProtocolFixture.protocol;
import static org.seriatim.followup.domain.SeriesFixture.FindingFixture.aLump;
import static org.seriatim.followup.domain.SeriesFixture.aSeries;
import static org.seriatim.followup.domain.SeriesFixture.day;

class RemarksTests {

	private static Advice advise(SeriesFixture series, ProtocolVersion protocol) {
		return IntervalAdvice
			.advise(series.facts(), protocol, new LumpCurve(0, new CurveMasses(0, List.of())),
					new RepeatedRatings(null, null))
			.orElseThrow();
	}

	@Nested
	class Technique {

		private List<Sentence> notes(SeriesFixture series) {
			return advise(series, firstProtocol()).techniqueNotes().stream().map(Remark::sentence).toList();
		}

		private Argument layer(Layer layer) {
			return Argument.word("layer", layer.word());
		}

		@Test
		void suggestsOneLayerDeeperAfterALumpThatLasted() {
			assertThat(notes(aSeries().injected(Region.CHEEK_MEDIAL_LEFT, Layer.SUPERFICIAL_DERMIS)
				.with(aLump().presentOn(15).absentOn(22))))
				.containsExactly(Sentence.of("followup.technique.deeper", Argument.number(1),
						layer(Layer.SUPERFICIAL_DERMIS), layer(Layer.MID_DERMIS)));
			assertThat(
					notes(aSeries().injected(Region.CHEEK_MEDIAL_LEFT, Layer.MID_DERMIS).with(aLump().presentOn(15))))
				.containsExactly(Sentence.of("followup.technique.deeper", Argument.number(1), layer(Layer.MID_DERMIS),
						layer(Layer.DEEP_DERMIS)));
		}

		@ParameterizedTest
		@EnumSource(names = { "DEEP_DERMIS", "BELOW_DERMIS" })
		void neverSuggestsALayerBelowTheDermis(Layer used) {
			assertThat(notes(aSeries().injected(Region.CHEEK_MEDIAL_LEFT, used).with(aLump().presentOn(15))))
				.singleElement()
				.satisfies((note) -> {
					assertThat(note.key()).isNotEqualTo("followup.technique.deeper");
					assertThat(note.arguments()).containsExactly(Argument.number(1), layer(used));
				});
		}

		@Test
		void suggestsLessAPointAndMorePointsWhereTheDeepDermisWasUsed() {
			assertThat(
					notes(aSeries().injected(Region.CHEEK_MEDIAL_LEFT, Layer.DEEP_DERMIS).with(aLump().presentOn(15))))
				.extracting(Sentence::key)
				.containsExactly("followup.technique.deepest");
		}

		@Test
		void gathersTheLumpsOfALayer() {
			var advice = advise(aSeries().injected(Region.CHEEK_MEDIAL_LEFT, "A", Layer.MID_DERMIS, null)
				.injected(Region.CHEEK_MEDIAL_LEFT, "B", Layer.MID_DERMIS, null)
				.injected(Region.CHEEK_MEDIAL_LEFT, "C", Layer.SUPERFICIAL_DERMIS, null)
				.with(aLump().inScar("A").presentOn(15))
				.with(aLump().inScar("B").presentOn(16))
				.with(aLump().inScar("C").presentOn(20)), firstProtocol());

			assertThat(advice.techniqueNotes()).extracting((note) -> note.evidence().size()).containsExactly(1, 2);
		}

		@Test
		void isSilentWithoutARecordToRestOn() {
			assertThat(notes(aSeries().with(aLump().presentOn(15)))).isEmpty();
			assertThat(
					notes(aSeries().injected(Region.CHEEK_MEDIAL_LEFT, null, null, null).with(aLump().presentOn(15))))
				.isEmpty();
			assertThat(notes(aSeries().injected(Region.CHEEK_MEDIAL_LEFT, Layer.MID_DERMIS)
				.with(aLump().presentOn(7).absentOn(14)))).isEmpty();
		}

		@Test
		void namesPainfulRegionsTheWorstFirst() {
			assertThat(notes(aSeries().sessionPain(8)
				.injected(Region.NOSE, null, Layer.MID_DERMIS, 4)
				.injected(Region.CHIN, null, Layer.MID_DERMIS, 3)
				.injected(Region.FOREHEAD, null, Layer.MID_DERMIS, 2)
				.injected(Region.FOREHEAD, null, Layer.MID_DERMIS, 7)))
				.containsExactly(
						Sentence.of("followup.technique.painful-region", Argument.word("region", "forehead"),
								Argument.number(7)),
						Sentence.of("followup.technique.painful-region", Argument.word("region", "nose"),
								Argument.number(4)));
		}

		@Test
		void fallsBackToThePainOfTheSession() {
			assertThat(notes(aSeries().sessionPain(4).injected(Region.NOSE, Layer.MID_DERMIS)))
				.containsExactly(Sentence.of("followup.technique.painful-session", Argument.number(4)));
			assertThat(notes(aSeries().sessionPain(3))).isEmpty();
		}

	}

	@Nested
	class Caution {

		private List<Remark> cautions(SeriesFixture series) {
			return advise(series, firstProtocol()).cautionsOn(day(0));
		}

		@Test
		void namesLumpsOfEarlierSessionsNeverSeenAbsent() {
			var cautions = cautions(aSeries().earlierSessions(-90, -45)
				.with(aLump().ofSession(1).inScar("A").notedOn(-90))
				.with(aLump().ofSession(2).inScar("B").notedOn(-45).absentOn(-30))
				.with(aLump().inScar("C")));

			assertThat(cautions).singleElement().satisfies((caution) -> {
				assertThat(caution.sentence().key()).isEqualTo("followup.caution.earlier-lumps");
				assertThat(caution.evidence()).flatExtracting(Evidence::label).contains(Argument.text("A"));
				assertThat(caution.evidence()).hasSize(1);
			});
		}

		@ParameterizedTest
		@EnumSource(names = { "GLABELLA", "NOSE", "NASOLABIAL_LEFT", "NASOLABIAL_RIGHT" })
		void namesRegionsWithVessels(Region region) {
			assertThat(cautions(aSeries().injected(region, Layer.MID_DERMIS).injected(region, Layer.MID_DERMIS)))
				.singleElement()
				.satisfies((caution) -> {
					assertThat(caution.sentence().key()).isEqualTo("followup.caution.vessels");
					assertThat(caution.evidence()).containsExactly(Evidence.of(region));
				});
		}

		@ParameterizedTest
		@EnumSource(names = { "PERIORBITAL_LEFT", "PERIORBITAL_RIGHT" })
		void namesRegionsOfThinSkin(Region region) {
			assertThat(cautions(aSeries().injected(region, Layer.MID_DERMIS)))
				.extracting((caution) -> caution.sentence().key())
				.containsExactly("followup.caution.thin-skin");
		}

		@Test
		void namesInjectionsBelowTheDermis() {
			assertThat(cautions(aSeries().injected(Region.CHIN, Layer.BELOW_DERMIS)))
				.extracting((caution) -> caution.sentence().key())
				.containsExactly("followup.caution.below-dermis");
		}

		@Test
		void isSilentOnOtherRegionsAndLayers() {
			assertThat(cautions(aSeries().injected(Region.CHIN, Layer.DEEP_DERMIS))).isEmpty();
		}

		@Test
		void speaksOfAnIntervalUnderFourWeeks() {
			assertThat(advise(aSeries(), protocol(28, 14, 56, SkinShift.NOT_SET)).cautions()).isEmpty();
			assertThat(advise(aSeries(), protocol(27, 14, 56, SkinShift.NOT_SET)).cautions())
				.extracting(Remark::sentence)
				.containsExactly(Sentence.of("followup.caution.short-interval", Argument.number(27)));
			assertThat(advise(aSeries().skin(SkinThickness.THIN), protocol(30, 14, 56, new SkinShift(-7, 0, 0)))
				.cautions()).extracting(Remark::sentence)
				.containsExactly(Sentence.of("followup.caution.short-interval", Argument.number(23)));
		}

		@Test
		void speaksOfAWindowThatHasPassed() {
			var advice = advise(aSeries(), firstProtocol());

			assertThat(advice.cautionsOn(day(56))).isEmpty();
			assertThat(advice.isOverdueOn(day(56))).isFalse();
			assertThat(advice.isOverdueOn(day(57))).isTrue();
			assertThat(advice.cautionsOn(day(57))).extracting(Remark::sentence)
				.containsExactly(Sentence.of("followup.caution.overdue", Argument.day(day(56))));
		}

	}

}
