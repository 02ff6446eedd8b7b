package org.seriatim.treatment.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarType;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.Aftercare;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.LidocaineLimit;
import org.seriatim.treatment.PointPattern;
import org.seriatim.treatment.PreparationId;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.RecordedPreparation;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.SideCheck;
import org.seriatim.treatment.Target;
import org.seriatim.treatment.domain.SessionReview.Kind;
import org.seriatim.treatment.domain.SessionReview.Remark;

import static org.assertj.core.api.Assertions.assertThat;

class SessionReviewTests {

	private static final LocalDate DAY = LocalDate.parse("2026-11-20");

	private static final LocalDate ADULT = LocalDate.parse("1990-01-01");

	private final TrackedScar scar = new TrackedScar(ScarId.next(), "A1", Region.FOREHEAD, ScarType.ROLLING, null, null,
			LocalDate.parse("2026-01-05"));

	// 20 mg of lidocaine in 5 mL
	private final RecordedPreparation vial = preparation("2026-11-20", "4.0", "1.0", "0.4");

	@Test
	void hasNothingToRemarkOnASessionThatAddsUp() {
		var review = review(session("60", null, this.vial, injection(1, Region.FOREHEAD, Layer.MID_DERMIS, "4.6")));
		assertThat(review.remarks()).isEmpty();
		assertThat(review.preparations()).singleElement().satisfies((preparation) -> {
			assertThat(preparation.balance()).isPresent();
			// 150 mg in 5 mL of diluent, 4 mL of it drawn: 120 mg in 5 mL
			assertThat(preparation.givenMg()).hasValueSatisfying((mg) -> assertThat(mg).isEqualByComparingTo("110.4"));
		});
	}

	@Test
	void tellsWhatDoesNotAddUp() {
		assertThat(review(session("60", null, this.vial, injection(1, Region.FOREHEAD, null, "4.5"))).dataQuality())
			.singleElement()
			.satisfies((remark) -> {
				assertThat(remark.kind()).isEqualTo(Kind.VOLUME_DOES_NOT_ADD_UP);
				assertThat(remark.part()).isEqualTo(1);
				assertThat(remark.evidence()).map(Object::toString).containsExactly("5.0", "4.5", "0.4", "0.1");
			});
	}

	@Test
	void cautionsOfALotThatHadExpired() {
		var expired = preparation("2026-11-19", "4.0", "1.0", "5.0");
		assertThat(review(session("60", null, expired)).cautions())
			.containsExactly(new Remark(Kind.LOT_EXPIRED, 1, List.of(LocalDate.parse("2026-11-19"))));
	}

	@Test
	void cautionsOfAPlacementBelowTheDermis() {
		assertThat(
				review(session("60", null, this.vial, injection(3, Region.CHIN, Layer.BELOW_DERMIS, "4.6"))).cautions())
			.containsExactly(new Remark(Kind.BELOW_DERMIS, 3, List.of(Region.CHIN)));
	}

	@Test
	void cautionsOfRegionsWithVesselsOnce() {
		assertThat(review(session("60", null, this.vial, injection(1, Region.NOSE, null, "2"),
				injection(2, Region.GLABELLA, null, "2"), injection(3, Region.NOSE, null, "0.6")))
			.cautions())
			.containsExactly(new Remark(Kind.REGION_WITH_VESSELS, 0, List.of(Region.GLABELLA, Region.NOSE)));
	}

	@Test
	void cautionsOfATopicalAnaestheticThatStayedOnTooLong() {
		assertThat(review(session("60", 300, this.vial, injection(1, Region.CHIN, null, "4.6"))).cautions())
			.extracting(Remark::kind)
			.doesNotContain(Kind.TOPICAL_TOO_LONG);
		assertThat(review(session("60", 301, this.vial, injection(1, Region.CHIN, null, "4.6"))).cautions())
			.extracting(Remark::kind)
			.contains(Kind.TOPICAL_TOO_LONG);
	}

	@Test
	void comparesLidocaineWithTheLimitOfTheRecordedWeight() {
		// 4 mg/mL times 4.6 mL against 4.5 mg/kg times 60 kg
		var lidocaine = review(session("60", null, this.vial, injection(1, Region.CHIN, null, "4.6"))).lidocaine();
		assertThat(lidocaine.givenMg()).hasValueSatisfying((mg) -> assertThat(mg).isEqualByComparingTo("18.4"));
		assertThat(lidocaine.limit()).isInstanceOfSatisfying(LidocaineLimit.Known.class,
				(limit) -> assertThat(limit.limitMg()).isEqualByComparingTo("270"));
		assertThat(lidocaine.isAboveLimit()).isFalse();
	}

	@Test
	void cautionsOfLidocaineAboveTheLimitOverTheWholeDay() {
		// 10 % in 30 mL is 3000 mg in 30 mL: 100 mg/mL, 1.4 mL of it in each of two
		// sessions
		var strong = new RecordedPreparation(PreparationId.next(), 1, "biostimulator A", null, null, null, null,
				new BigDecimal("0"), new BigDecimal("0"), new BigDecimal("10"), new BigDecimal("30"), null);
		var session = session("60", null, strong, injectionFrom(strong, "1.4"));
		var sameDay = session(null, null, strong, injectionFrom(strong, "1.4"));
		assertThat(SessionReview.of(session, List.of(), ADULT, Map.of()).cautions()).isEmpty();
		var review = SessionReview.of(session, List.of(sameDay), ADULT, Map.of());
		assertThat(review.lidocaine().givenMg()).hasValueSatisfying((mg) -> assertThat(mg).isEqualByComparingTo("280"));
		assertThat(review.cautions()).extracting(Remark::kind).containsExactly(Kind.LIDOCAINE_ABOVE_LIMIT);
	}

	@Test
	void takesTheLastWeightThatStillHolds() {
		var without = session(null, null, this.vial, injection(1, Region.CHIN, null, "4.6"));
		var half = weighed("2026-05-24", "50");
		var old = weighed("2026-05-23", "50");
		assertThat(SessionReview.of(without, List.of(half), ADULT, Map.of()).lidocaine()).satisfies((lidocaine) -> {
			assertThat(lidocaine.weighedOn()).isEqualTo("2026-05-24");
			assertThat(lidocaine.limit()).isInstanceOfSatisfying(LidocaineLimit.Known.class,
					(limit) -> assertThat(limit.limitMg()).isEqualByComparingTo("225"));
		});
		assertThat(SessionReview.of(without, List.of(old), ADULT, Map.of()).lidocaine().limit())
			.isEqualTo(new LidocaineLimit.Unknown(LidocaineLimit.Missing.WEIGHT_TOO_OLD));
		assertThat(SessionReview.of(without, List.of(weighed("2026-11-21", "50")), ADULT, Map.of()).lidocaine().limit())
			.isEqualTo(new LidocaineLimit.Unknown(LidocaineLimit.Missing.NO_WEIGHT_ON_RECORD));
	}

	@Test
	void showsNoLimitForSomebodyUnderAge() {
		var session = session("60", null, this.vial, injection(1, Region.CHIN, null, "4.6"));
		assertThat(SessionReview.of(session, List.of(), LocalDate.parse("2008-11-21"), Map.of()).lidocaine().limit())
			.isEqualTo(new LidocaineLimit.Unknown(LidocaineLimit.Missing.UNDER_AGE));
	}

	@Test
	void tellsWhenAScarLiesInAnotherRegion() {
		var injection = new RecordedInjection(1, this.vial.id(), Region.CHIN, this.scar.id(), Target.SCAR, null, null,
				new BigDecimal("4.6"), null, null, unseen(), null);
		assertThat(review(session("60", null, this.vial, injection)).dataQuality())
			.containsExactly(new Remark(Kind.SCAR_IN_ANOTHER_REGION, 1, List.of("A1", Region.FOREHEAD, Region.CHIN)));
	}

	@Test
	void cautionsOfNoBlanchingWhereVesselsAre() {
		var seen = new RecordedInjection.Endpoints(false, null, null, null, null);
		assertThat(review(session("60", null, this.vial, injection(1, Region.NOSE, seen),
				injection(2, Region.CHIN, seen), injection(3, Region.GLABELLA, unseen())))
			.cautions()).filteredOn((remark) -> remark.kind() == Kind.NO_BLANCHING_OVER_VESSELS)
			.containsExactly(new Remark(Kind.NO_BLANCHING_OVER_VESSELS, 1, List.of(Region.NOSE)));
	}

	@Test
	void addsUpWhatWasPlacedByRegion() {
		var review = review(session("60", null, this.vial, planned(1, Region.CHIN, 20, "0.4", "20", "10"),
				planned(2, Region.NOSE, 10, "0.2", null, null), planned(3, Region.CHIN, 5, "0.1", "4.5", "10")));
		assertThat(review.areas()).extracting(SessionReview.Area::region).containsExactly(Region.NOSE, Region.CHIN);
		var chin = review.areas().get(1);
		assertThat(chin.entries()).isEqualTo(2);
		assertThat(chin.points()).isEqualTo(25);
		assertThat(chin.volumeMl()).isEqualByComparingTo("0.5");
		// 20 cm² and 4.5 cm² at 10 mm: 20 and 5 points of 0.02 mL
		assertThat(chin.planned()).hasValueSatisfying((plan) -> {
			assertThat(plan.points()).isEqualTo(25);
			assertThat(plan.volumeMl()).isEqualByComparingTo("0.5");
		});
		assertThat(review.total().points()).isEqualTo(35);
		assertThat(review.total().volumeMl()).isEqualByComparingTo("0.7");
		// 5 mL prepared, 0.7 injected, 0.4 discarded
		assertThat(review.preparations().get(0).leftInSyringesMl())
			.hasValueSatisfying((left) -> assertThat(left).isEqualByComparingTo("3.9"));
	}

	/**
	 * 36 g on 240 cm² for 90 minutes and 135 mg for 60 kg: 0.6 and 0.5 (UK product
	 * information; US prescribing information; adding them is a convention).
	 */
	@Test
	void addsTheSharesOfCreamAndInfiltration() {
		var strong = new RecordedPreparation(PreparationId.next(), 1, "biostimulator A", null, null, null, null,
				new BigDecimal("0"), new BigDecimal("0"), new BigDecimal("10"), new BigDecimal("30"), null);
		var creamed = with(session("60", 90, strong, injectionFrom(strong, "1.35")), "36", "240");
		assertThat(review(creamed).topical().together())
			.hasValueSatisfying((sum) -> assertThat(sum).isEqualByComparingTo("1.1"));
		assertThat(review(creamed).cautions()).extracting(Remark::kind).containsExactly(Kind.ANAESTHETICS_TOGETHER);
		// the same cream, recorded with the session before it on that day
		var before = with(session(null, 90, this.vial), "36", "240");
		assertThat(SessionReview
			.of(session("60", null, strong, injectionFrom(strong, "1.35")), List.of(before), ADULT, Map.of())
			.topical()
			.together()).hasValueSatisfying((sum) -> assertThat(sum).isEqualByComparingTo("1.1"));
	}

	@Test
	void cautionsOfTooMuchCream() {
		assertThat(review(with(session("60", 60, this.vial), "61", "601")).cautions()).extracting(Remark::kind)
			.contains(Kind.TOPICAL_TOO_MUCH, Kind.TOPICAL_TOO_WIDE);
		assertThat(review(with(session("60", 60, this.vial), "30", "401")).cautions()).extracting(Remark::kind)
			.containsExactly(Kind.TOPICAL_WIDE);
	}

	@Test
	void asksForAFindingWhereALumpWasFelt() {
		var session = session("60", null, this.vial);
		var felt = new SideCheck(false, true, true, null, null);
		assertThat(review(withAftercare(session, new Aftercare(null, null, null, null, felt, null, null))).cautions())
			.containsExactly(new Remark(Kind.LUMP_FELT, 0, List.of(SessionReview.Side.LEFT)));
	}

	private static RecordedSession with(RecordedSession session, String grams, String areaCm2) {
		return withAftercare(session,
				new Aftercare(new BigDecimal(grams), new BigDecimal(areaCm2), null, null, null, null, null));
	}

	private static RecordedSession withAftercare(RecordedSession session, Aftercare aftercare) {
		return new RecordedSession(session.id(), session.patient(), session.series(), session.number(),
				session.treatedOn(), session.practitioner(), session.weightKg(), null, null, session.topicalMinutes(),
				null, null, null, null, session.preparations(), session.injections(), aftercare);
	}

	private RecordedInjection injection(int number, Region region, RecordedInjection.Endpoints seen) {
		return new RecordedInjection(number, this.vial.id(), region, null, Target.PORES, null, null,
				new BigDecimal("1"), null, null, seen, null);
	}

	private RecordedInjection planned(int number, Region region, int points, String volume, @Nullable String areaCm2,
			@Nullable String spacingMm) {
		return new RecordedInjection(number, this.vial.id(), region, null, Target.PORES, null, points,
				new BigDecimal(volume), null, null, unseen(), null,
				new PointPattern(new BigDecimal("0.02"), null, (areaCm2 != null) ? new BigDecimal(areaCm2) : null,
						(spacingMm != null) ? new BigDecimal(spacingMm) : null));
	}

	private SessionReview review(RecordedSession session) {
		return SessionReview.of(session, List.of(), ADULT, Map.of(this.scar.id(), this.scar));
	}

	private RecordedInjection injection(int number, Region region, @Nullable Layer layer, String volume) {
		return new RecordedInjection(number, this.vial.id(), region, null, Target.PORES, layer, null,
				new BigDecimal(volume), null, null, unseen(), null);
	}

	private static RecordedInjection injectionFrom(RecordedPreparation preparation, String volume) {
		return new RecordedInjection(1, preparation.id(), Region.CHIN, null, Target.PORES, null, null,
				new BigDecimal(volume), null, null, unseen(), null);
	}

	private static RecordedInjection.Endpoints unseen() {
		return new RecordedInjection.Endpoints(null, null, null, null, null);
	}

	private static RecordedPreparation preparation(String expires, String drawn, String lidocaine, String discarded) {
		return new RecordedPreparation(PreparationId.next(), 1, "biostimulator A", "L1", LocalDate.parse(expires),
				new BigDecimal("150"), new BigDecimal("5"), new BigDecimal(drawn), new BigDecimal("0"),
				new BigDecimal("2"), new BigDecimal(lidocaine), new BigDecimal(discarded));
	}

	private static RecordedSession session(@Nullable String weight, @Nullable Integer topicalMinutes,
			RecordedPreparation preparation, RecordedInjection... injections) {
		return session(DAY, weight, topicalMinutes, List.of(preparation), List.of(injections));
	}

	private static RecordedSession weighed(String day, String weight) {
		return session(LocalDate.parse(day), weight, null, List.of(), List.of());
	}

	private static RecordedSession session(LocalDate day, @Nullable String weight, @Nullable Integer topicalMinutes,
			List<RecordedPreparation> preparations, List<RecordedInjection> injections) {
		return new RecordedSession(SessionId.next(), PatientId.next(), SeriesId.next(), 1, day,
				new StaffId(UUID.randomUUID()), (weight != null) ? new BigDecimal(weight) : null, null, null,
				topicalMinutes, null, null, null, null, preparations, injections);
	}

}
