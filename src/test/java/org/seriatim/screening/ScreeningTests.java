package org.seriatim.screening;

import java.io.IOException;
import java.io.InputStream;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Properties;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.seriatim.access.StaffId;
import org.seriatim.screening.ScreenedItem.State;
import org.seriatim.screening.Screening.Setting;
import org.seriatim.screening.ScreeningItem.Asked;
import org.seriatim.screening.ScreeningItem.Level;

import static org.assertj.core.api.Assertions.assertThat;

class ScreeningTests {

	/** The list that a clinic starts with, each item worded by its name. */
	private static final ScreeningList LIST = new ScreeningList(1,
			Arrays.stream(ScreeningItem.values()).map((item) -> ListedItem.standard(item, item.word())).toList());

	private static final LocalDate DAY = LocalDate.of(2026, 11, 20);

	private static final StaffId CLINICIAN = StaffId.next();

	/**
	 * Levels and days of validity as the clinic's clinical standards list them for
	 * screening before each session.
	 */
	@ParameterizedTest
	@CsvSource({ "INFECTION_SITE,STOP,1", "INFECTION_SYSTEMIC,STOP,1", "ACTIVE_ACNE_SEVERE,CAUTION,7",
			"KELOID_TENDENCY,STOP,365", "PREGNANCY,STOP,1", "LACTATION,CAUTION,28", "ISOTRETINOIN,CAUTION,28",
			"IMMUNE_DISEASE,CAUTION,180", "IMMUNOSUPPRESSION,CAUTION,90", "BLEEDING,CAUTION,28",
			"ALLERGY_AMIDE,STOP,365", "ALLERGY_PRODUCT,STOP,365", "METHAEMOGLOBIN,STOP,365",
			"CARDIAC_LIVER,CAUTION,180", "IMPLANTED_ELECTRONIC,STOP,365", "METAL_IN_FIELD,CAUTION,365",
			"PERMANENT_FILLER,CAUTION,365", "RECENT_PROCEDURE,CAUTION,28", "PRIOR_FILLER_REACTION,CAUTION,365",
			"HERPES_HISTORY,CAUTION,365", "PIH_MELASMA,CAUTION,28", "VACCINE_DENTAL_ILLNESS,CAUTION,14",
			"BODY_IMAGE_CONCERN,CAUTION,180", "DIABETES_UNCONTROLLED,CAUTION,180", "SKIN_CANCER_SUSPECT,STOP,1",
			"AGE_UNDER_18,STOP,1", "CONSENT_MISSING,STOP,1" })
	void listsEachItemWithItsLevelAndItsDays(ScreeningItem item, Level level, int days) {
		assertThat(item.level()).isEqualTo(level);
		assertThat(item.validDays()).isEqualTo(days);
		assertThat(ScreeningItem.values()).hasSize(27);
	}

	@ParameterizedTest
	@EnumSource
	void nothingIsClearedThatNobodyAsked(ScreeningItem item) {
		var screened = of(item, setting(null), List.of());
		assertThat(screened.isCleared()).isFalse();
		assertThat(screened.stops()).isEqualTo(item.level() == Level.STOP);
	}

	@Test
	void noClearsAndYesAndUnknownDoNot() {
		assertThat(of(ScreeningItem.BLEEDING, answered(Answer.NO, DAY)).isCleared()).isTrue();
		assertThat(of(ScreeningItem.BLEEDING, answered(Answer.YES, DAY)).isCleared()).isFalse();
		assertThat(of(ScreeningItem.BLEEDING, answered(Answer.UNKNOWN, DAY)).isCleared()).isFalse();
	}

	/* "Answers older than validDays must be asked again". */
	@ParameterizedTest
	@CsvSource({ "BLEEDING,28,NO", "BLEEDING,29,STALE", "KELOID_TENDENCY,365,NO", "KELOID_TENDENCY,366,STALE",
			"PREGNANCY,0,NO", "PREGNANCY,1,NO", "PREGNANCY,2,STALE", "VACCINE_DENTAL_ILLNESS,14,NO",
			"VACCINE_DENTAL_ILLNESS,15,STALE" })
	void countsUpToTheLastDayOfItsValidity(ScreeningItem item, int daysAgo, State expected) {
		assertThat(of(item, answered(item, Answer.NO, DAY.minusDays(daysAgo))).state()).isEqualTo(expected);
	}

	@Test
	void whatIsAskedAtEverySessionIsAskedAgainAfterOne() {
		var answer = answered(ScreeningItem.LACTATION, Answer.NO, DAY.minusDays(20));
		assertThat(of(ScreeningItem.LACTATION, setting(DAY.minusDays(21)), List.of(answer)).state())
			.isEqualTo(State.NO);
		assertThat(of(ScreeningItem.LACTATION, setting(DAY.minusDays(20)), List.of(answer)).state())
			.isEqualTo(State.STALE);
		var yearly = answered(ScreeningItem.KELOID_TENDENCY, Answer.NO, DAY.minusDays(200));
		assertThat(of(ScreeningItem.KELOID_TENDENCY, setting(DAY.minusDays(20)), List.of(yearly)).state())
			.isEqualTo(State.NO);
	}

	@Test
	void theLatestAnswerCountsAndNoneOfALaterDay() {
		var answers = List.of(answered(ScreeningItem.KELOID_TENDENCY, Answer.NO, DAY.minusDays(3)),
				answered(ScreeningItem.KELOID_TENDENCY, Answer.YES, DAY.minusDays(1)),
				answered(ScreeningItem.KELOID_TENDENCY, Answer.NO, DAY.plusDays(1)));
		assertThat(of(ScreeningItem.KELOID_TENDENCY, setting(null), answers).state()).isEqualTo(State.YES);
	}

	@Test
	void aDraftClearsNothing() {
		var draft = new GivenAnswer(UUID.randomUUID(), asked(ScreeningItem.PREGNANCY), DAY, Answer.NO, StaffId.next(),
				null, null, null, 0L);
		assertThat(of(ScreeningItem.PREGNANCY, setting(null), List.of(draft))).satisfies((item) -> {
			assertThat(item.isDraft()).isTrue();
			assertThat(item.isCleared()).isFalse();
			assertThat(item.stops()).isTrue();
		});
	}

	@Test
	void aDecisionHoldsForItsAnswerAndItsDay() {
		var item = ScreeningItem.KELOID_TENDENCY;
		var yes = answered(item, Answer.YES, DAY.minusDays(2));
		assertThat(decided(item, yes, Answer.YES, Verdict.MAY_TREAT, DAY).isCleared()).isTrue();
		assertThat(decided(item, yes, Answer.YES, Verdict.NOT_TODAY, DAY).isCleared()).isFalse();
		assertThat(decided(item, yes, Answer.YES, Verdict.MAY_TREAT, DAY.minusDays(1)).isCleared()).isFalse();
		assertThat(decided(item, yes, Answer.UNKNOWN, Verdict.MAY_TREAT, DAY).isCleared()).isFalse();
		var old = answered(ScreeningItem.PREGNANCY, Answer.YES, DAY.minusDays(2));
		assertThat(decided(ScreeningItem.PREGNANCY, old, Answer.YES, Verdict.MAY_TREAT, DAY).isCleared()).isFalse();
		var caution = answered(ScreeningItem.BLEEDING, Answer.YES, DAY);
		assertThat(decided(ScreeningItem.BLEEDING, caution, Answer.YES, Verdict.ACKNOWLEDGED, DAY).isCleared())
			.isTrue();
	}

	@ParameterizedTest
	@CsvSource({ "2008-11-21,YES", "2008-11-20,NO", "2008-11-19,NO" })
	void anAdultIsOneFromTheEighteenthBirthdayOn(LocalDate born, State expected) {
		var setting = new Setting(DAY, DayPlan.UNKNOWN, born, true, null);
		assertThat(of(ScreeningItem.AGE_UNDER_18, setting, List.of()).state()).isEqualTo(expected);
	}

	@Test
	void anUnknownDateOfBirthIsAsked() {
		assertThat(of(ScreeningItem.AGE_UNDER_18, setting(null), List.of()).state()).isEqualTo(State.UNANSWERED);
		assertThat(of(ScreeningItem.AGE_UNDER_18, answered(ScreeningItem.AGE_UNDER_18, Answer.NO, DAY)).isCleared())
			.isTrue();
	}

	@Test
	void whatIsNotPlannedIsNotAskedAndWhatNobodySaidIs() {
		assertThat(items(DayPlan.UNKNOWN)).contains(ScreeningItem.IMPLANTED_ELECTRONIC, ScreeningItem.METAL_IN_FIELD,
				ScreeningItem.METHAEMOGLOBIN);
		assertThat(items(new DayPlan(null, false, true, 0L))).contains(ScreeningItem.METHAEMOGLOBIN)
			.doesNotContain(ScreeningItem.IMPLANTED_ELECTRONIC, ScreeningItem.METAL_IN_FIELD);
		assertThat(items(new DayPlan(null, true, false, 0L))).contains(ScreeningItem.IMPLANTED_ELECTRONIC)
			.doesNotContain(ScreeningItem.METHAEMOGLOBIN);
		assertThat(items(new DayPlan(null, false, false, 0L).using(true, true)))
			.contains(ScreeningItem.IMPLANTED_ELECTRONIC, ScreeningItem.METHAEMOGLOBIN);
	}

	@Test
	void aMissingConsentStops() {
		assertThat(of(ScreeningItem.CONSENT_MISSING, new Setting(DAY, DayPlan.UNKNOWN, null, false, null), List.of())
			.stops()).isTrue();
		assertThat(of(ScreeningItem.CONSENT_MISSING, new Setting(DAY, DayPlan.UNKNOWN, null, true, null), List.of())
			.stops()).isFalse();
	}

	@Test
	void whatIsAskedInOtherWordsIsAskedAgain() {
		var list = with(new ListedItem("bleeding", "Any medicine against clotting", Level.CAUTION, 28,
				Asked.EVERY_SESSION, null));
		var answer = answered(Answer.NO, DAY);
		assertThat(one(ScreeningItem.BLEEDING, Screening.of(setting(null), list, List.of(answer), List.of())).state())
			.isEqualTo(State.STALE);
	}

	@Test
	void whatIsSwitchedOffIsNotAskedAndAShorterTimeHoldsAtOnce() {
		var off = with(
				new ListedItem("bleeding", "bleeding", Level.CAUTION, 28, Asked.EVERY_SESSION, "never asked here"));
		assertThat(Screening.of(setting(null), off, List.of(), List.of()).items())
			.noneMatch((item) -> item.item().is(ScreeningItem.BLEEDING));
		var shorter = with(new ListedItem("bleeding", "bleeding", Level.CAUTION, 7, Asked.EVERY_SESSION, null));
		var answer = answered(Answer.NO, DAY.minusDays(8));
		assertThat(of(ScreeningItem.BLEEDING, answer).state()).isEqualTo(State.NO);
		assertThat(
				one(ScreeningItem.BLEEDING, Screening.of(setting(null), shorter, List.of(answer), List.of())).state())
			.isEqualTo(State.STALE);
	}

	@Test
	void anAcknowledgementClearsNoStopItemThatWasACautionThatMorning() {
		var own = new ListedItem("clinic_1", "Ate today", Level.STOP, 1, Asked.EVERY_SESSION, null);
		var asked = new AskedItem("clinic_1", 2, "Ate today");
		var answer = new GivenAnswer(UUID.randomUUID(), asked, DAY, Answer.YES, CLINICIAN, CLINICIAN, null, null, 0L);
		var decision = new ScreeningDecision(UUID.randomUUID(), asked, DAY, Answer.YES, Verdict.ACKNOWLEDGED, null,
				CLINICIAN, Instant.EPOCH, 0L);
		var screening = Screening.of(setting(null), new ScreeningList(3, List.of(own)), List.of(answer),
				List.of(decision));
		assertThat(screening.stopping()).hasSize(1);
		assertThat(screening.open()).extracting(ScreenedItem::open).containsExactly(ScreenedItem.Open.TO_DECIDE);
	}

	private static ScreeningList with(ListedItem changed) {
		return new ScreeningList(2,
				LIST.items().stream().map((item) -> item.word().equals(changed.word()) ? changed : item).toList());
	}

	private static AskedItem asked(ScreeningItem item) {
		return new AskedItem(item.word(), 1, item.word());
	}

	/** Every item says what it rests on. */
	@ParameterizedTest
	@EnumSource
	void namesItsSource(ScreeningItem item) throws IOException {
		var texts = new Properties();
		try (InputStream file = getClass().getResourceAsStream("/messages/screening.properties")) {
			texts.load(file);
		}
		assertThat(texts.getProperty("screening.basis." + item.word())).isNotBlank();
	}

	private static List<ScreeningItem> items(DayPlan plan) {
		return Screening.of(new Setting(DAY, plan, null, true, null), LIST, List.of(), List.of())
			.items()
			.stream()
			.map((item) -> item.item().standard().orElseThrow())
			.toList();
	}

	private static GivenAnswer answered(Answer answer, LocalDate on) {
		return answered(ScreeningItem.BLEEDING, answer, on);
	}

	private static GivenAnswer answered(ScreeningItem item, Answer answer, LocalDate on) {
		return new GivenAnswer(UUID.randomUUID(), asked(item), on, answer, CLINICIAN, CLINICIAN, null, null, 0L);
	}

	private static Setting setting(@Nullable LocalDate lastTreatedOn) {
		return new Setting(DAY, DayPlan.UNKNOWN, null, false, lastTreatedOn);
	}

	private static ScreenedItem of(ScreeningItem item, GivenAnswer answer) {
		return of(item, setting(null), List.of(answer));
	}

	private static ScreenedItem of(ScreeningItem item, Setting setting, List<GivenAnswer> answers) {
		return one(item, Screening.of(setting, LIST, answers, List.of()));
	}

	private static ScreenedItem decided(ScreeningItem item, GivenAnswer answer, Answer about, Verdict verdict,
			LocalDate on) {
		var decision = new ScreeningDecision(UUID.randomUUID(), asked(item), on, about, verdict, "a reason", CLINICIAN,
				Instant.EPOCH, 0L);
		return one(item, Screening.of(setting(null), LIST, List.of(answer), List.of(decision)));
	}

	private static ScreenedItem one(ScreeningItem item, Screening screening) {
		return screening.items().stream().filter((one) -> one.item().is(item)).findFirst().orElseThrow();
	}

}
