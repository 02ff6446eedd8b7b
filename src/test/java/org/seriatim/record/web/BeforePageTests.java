package org.seriatim.record.web;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.seriatim.access.Role;
import org.seriatim.assessment.Region;
import org.seriatim.patient.PatientId;
import org.seriatim.screening.ScreeningItem;
import org.seriatim.screening.ScreeningRecords;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestClock;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.TestTreatment;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.test.context.support.WithAnonymousUser;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

/** The page before a session, on 20 November 2026 at nine. */
@PageTest
@SignedInAs(Role.PRACTITIONER)
class BeforePageTests {

	private static final String NOT_YET = "This session cannot be started yet";

	private static final String UNKNOWN_ENTRY = "01980000-0000-7000-8000-000000000000:0";

	@Autowired
	MockMvcTester browser;

	@Autowired
	JdbcClient database;

	@Autowired
	TestStaff staff;

	@Autowired
	TestClock clock;

	@Autowired
	ScreeningRecords screening;

	@Autowired
	TreatmentHistory history;

	private TestTreatment given;

	private PatientId patient;

	private SeriesId series;

	@BeforeEach
	void aPatientInTreatment() {
		this.given = new TestTreatment(this.database);
		this.patient = this.given.patient("B-1");
		this.given.birthDate(this.patient, "1990-03-04");
		this.series = this.given.series(this.patient);
	}

	@Test
	void showsWhatWasDoneLastTimeAndWhatIsToBeSettled() {
		var session = this.given.session(this.series, 1, "2026-10-09");
		this.given.injection(session, Region.NOSE, null);
		this.given.weight(session, "61.5");
		this.database.sql(
				"update injection set volume_ml = 0.4, points = 20, layer = 'mid_dermis', blanching = true, version = version + 1")
			.update();
		assertThat(get(before())).hasStatusOk()
			.bodyText()
			.contains("Session 1, 9 Oct 2026, a.venn", "0.40 mL · 20", "mid dermis", "blanching in 1 of 1", "61.5",
					"9 Oct 2026, 42 days ago", "stop items not cleared", "Keloid or hypertrophic scars",
					"No valid consent is on record", "The session cannot be started yet",
					"Exclusion in a published trial");
	}

	@Test
	void isForThoseWhoCareForThePatientAlone() {
		for (var role : List.of(Role.ASSISTANT, Role.CLINIC_LEAD)) {
			assertThat(this.browser.get().uri(before()).with(this.staff.as(role))).hasStatusOk();
		}
		for (var role : List.of(Role.FRONT_DESK, Role.ADMINISTRATOR)) {
			assertThat(this.browser.get().uri(before()).with(this.staff.as(role))).hasStatus(HttpStatus.FORBIDDEN);
			assertThat(postAs(role, before() + "/weight", "weightKg", "61", "weighedOn", "2026-11-20"))
				.hasStatus(HttpStatus.FORBIDDEN);
		}
		for (var decision : List.of("/decisions", "/take-over")) {
			assertThat(postAs(Role.ASSISTANT, before() + decision)).hasStatus(HttpStatus.FORBIDDEN);
		}
	}

	@Test
	@WithAnonymousUser
	void asksWhoItIs() {
		assertThat(get(before())).hasStatus3xxRedirection();
	}

	@Test
	void aSessionStartsOnceNothingStops() {
		assertThat(get(newSession())).hasStatusOk()
			.bodyText()
			.contains(NOT_YET, "Fever or infection elsewhere", before());
		answerAll();
		assertThat(get(newSession())).hasStatusOk().bodyText().contains(NOT_YET, "No valid consent");
		consent();
		assertThat(get(before())).bodyText()
			.contains("Stop items cleared; cautions cleared or acknowledged", newSession(), "C-12");
		assertThat(get(newSession())).hasStatusOk().bodyText().doesNotContain(NOT_YET);
	}

	@Test
	void aCautionHoldsUpRecordingUntilItIsAcknowledgedByNameAndTime() {
		answerAll("bleeding", "yes");
		consent();
		var sheet = new String[] { "number", "1", "treatedOn", "2026-11-20", "practitioner", staffId("practitioner"),
				"instructions", "keep out of the sun" };
		var refused = post(newSession(), sheet);
		assertThat(refused).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("keep out of the sun", before() + "#decision-bleeding", "yes, to be acknowledged");
		assertThat(RefusedForm.messages(refused).get("screening"))
			.contains("Anticoagulant, antiplatelet or bleeding disorder (yes, to be acknowledged)")
			.doesNotContain("Fever");
		var kept = new ArrayList<>(List.of(sheet));
		kept.addAll(List.of("draft", "true"));
		assertThat(post(newSession(), kept.toArray(String[]::new))).hasStatus3xxRedirection();
		assertThat(this.database.sql("select count(*) from session").query(Long.class).single()).isZero();
		decide("bleeding", "yes", "acknowledged", "", "");
		assertThat(get(before())).bodyText()
			.contains("acknowledged, on the answer yes, by practitioner, 20 Nov 2026, 09:00");
		var session = post(newSession(), sheet);
		assertThat(session).hasStatus3xxRedirection();
		assertThat(get(session.getResponse().getRedirectedUrl())).bodyText()
			.contains("stop items cleared, cautions acknowledged or clear",
					"acknowledged, on the answer yes, by practitioner, 20 Nov 2026, 09:00");
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|',
			value = { "unknown|#decision-lactation|unknown, to be acknowledged", "|#item-lactation|to be asked" })
	void whatIsUnknownOrNotAskedIsNoClearedCaution(String answer, String place, String state) {
		var fields = all("lactation", (answer != null) ? answer : "");
		post(before() + "/answers", fields.toArray(String[]::new));
		consent();
		var refused = post(newSession(), "number", "1", "treatedOn", "2026-11-20", "practitioner",
				staffId("practitioner"));
		assertThat(refused).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT).bodyText().contains(before() + place);
		assertThat(RefusedForm.messages(refused).get("screening")).contains("Breast-feeding (" + state + ")");
	}

	@Test
	void anAssistantsAnswerToACautionIsNoAcknowledgement() {
		answerAll();
		consent();
		var item = "update screening_answer set confirmed_by = null, version = version + 1 where item = 'lactation'";
		this.database.sql(item).update();
		var refused = post(newSession(), "number", "1", "treatedOn", "2026-11-20", "practitioner",
				staffId("practitioner"));
		assertThat(RefusedForm.messages(refused).get("screening"))
			.contains("Breast-feeding (an assistant's answer, to be taken over)");
	}

	@Test
	void whatTheSessionUsedCountsWhateverWasPlanned() {
		post(before() + "/plan", "radiofrequency", "false", "prilocaine", "false", "planVersion", "");
		var fields = all();
		var device = field2("implanted_electronic", "");
		fields.subList(fields.indexOf(device + "item"), fields.indexOf(device + "item") + 4).clear();
		post(before() + "/answers", fields.toArray(String[]::new));
		consent();
		var session = new ArrayList<String>(
				List.of("number", "1", "treatedOn", "2026-11-20", "practitioner", staffId("practitioner")));
		assertThat(get(newSession())).hasStatusOk().bodyText().doesNotContain(NOT_YET);
		session.addAll(List.of("combination", "rf_after", "rfDepthMm", "1.5"));
		assertThat(post(newSession(), session.toArray(String[]::new))).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("the screening is not cleared. Pacemaker, defibrillator or other active implant");
	}

	@Test
	void aPossibleEmergencyAndAHoldStandOnTop() {
		this.database.sql("""
				insert into finding (code, patient_id, kind, first_noted_on)
				values ('F-1', :patient, 'visual_symptom', '2026-11-19'), ('F-2', :patient, 'burn', '2026-11-18')""")
			.param("patient", this.patient.value())
			.update();
		assertThat(get(before())).bodyText()
			.containsSubsequence("Possible emergency", "Visual symptom", "Treatment on hold", "Burn",
					"Since the last session", "Screening")
			.contains("/series/" + this.series + "#finding-");
	}

	@Test
	void anAssistantIsToldWhoDecides() {
		answerAll("keloid_tendency", "yes");
		assertThat(this.browser.get().uri(before()).with(this.staff.as(Role.ASSISTANT))).bodyText()
			.contains("Keep the answers", "A practitioner or clinic lead decides.")
			.doesNotContain("Record the decisions");
	}

	@Test
	void aStopItemIsClearedForTheDayByADecisionWithAReason() {
		answerAll("keloid_tendency", "yes");
		consent();
		assertThat(get(newSession())).hasStatusOk().bodyText().contains(NOT_YET);
		var refused = decide("keloid_tendency", "yes", "may_treat", "", "");
		assertThat(refused).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(refused)).containsEntry(field("decisions", "keloid_tendency", "reason"),
				"Say why.");
		decide("keloid_tendency", "yes", "not_today", "wait for the scar clinic", "");
		assertThat(get(newSession())).hasStatusOk().bodyText().contains(NOT_YET);
		assertThat(decide("keloid_tendency", "yes", "may_treat", "an old ear piercing, years ago", "0"))
			.hasStatus3xxRedirection();
		assertThat(get(newSession())).hasStatusOk().bodyText().doesNotContain(NOT_YET);
		assertThat(get("/history/screening_decision/" + id("screening_decision"))).hasStatusOk()
			.bodyText()
			.contains("wait for the scar clinic", "an old ear piercing, years ago", "Keloid");
		// for that day alone
		this.clock.advance(Duration.ofDays(1));
		assertThat(get(newSession())).hasStatusOk().bodyText().contains(NOT_YET, "Keloid");
	}

	@Test
	void aDecisionOnAnotherAnswerNoLongerHolds() {
		answerAll("keloid_tendency", "unknown");
		consent();
		decide("keloid_tendency", "unknown", "may_treat", "no scar of that kind to be seen", "");
		assertThat(get(newSession())).hasStatusOk().bodyText().doesNotContain(NOT_YET);
		assertThat(answer("keloid_tendency", "yes", "0", "changeReason", "she remembered")).hasStatus3xxRedirection();
		assertThat(get(newSession())).hasStatusOk().bodyText().contains(NOT_YET);
		assertThat(get(before())).bodyText().contains("made on another answer, so it no longer holds");
		assertThat(decide("keloid_tendency", "unknown", "may_treat", "too late", "0")).hasStatus(HttpStatus.CONFLICT)
			.bodyText()
			.contains("Somebody changed this in the meantime", "too late");
	}

	@Test
	void aCautionIsAcknowledgedAndDoesNotKeepASessionFromStarting() {
		answerAll("isotretinoin", "yes", "lastDoseOn", "2026-10-16");
		consent();
		assertThat(get(before())).bodyText()
			.contains("last dose 16 Oct 2026, 5 weeks ago", "one caution to ask or acknowledge");
		assertThat(get(newSession())).hasStatusOk()
			.bodyText()
			.contains("One caution of the screening is neither cleared nor acknowledged",
					"Oral isotretinoin now or in the last 6 months");
		decide("isotretinoin", "yes", "acknowledged", "", "");
		assertThat(get(before())).bodyText().contains("cautions cleared or acknowledged");
		assertThat(decide("isotretinoin", "yes", "may_treat", "x", "0")).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@Test
	void anAssistantsAnswersAreDraftsUntilTheyAreTakenOver() {
		var fields = new ArrayList<String>(all());
		assertThat(postAs(Role.ASSISTANT, before() + "/answers", fields.toArray(String[]::new)))
			.hasStatus3xxRedirection();
		consent();
		assertThat(get(newSession())).hasStatusOk().bodyText().contains(NOT_YET);
		assertThat(get(before())).bodyText().contains("no, to be taken over", "Take over these");
		var drafts = new ArrayList<String>();
		this.database.sql("select id || ':' || version from screening_answer")
			.query(String.class)
			.list()
			.forEach((token) -> drafts.addAll(List.of("shown", token)));
		assertThat(post(before() + "/take-over", drafts.toArray(String[]::new))).hasStatus3xxRedirection();
		assertThat(get(newSession())).hasStatusOk().bodyText().doesNotContain(NOT_YET);
	}

	@Test
	void whatWasAnsweredEarlierIsShownAndNeverCarriedOverByItself() {
		answerAll();
		consent();
		this.clock.setTo(Instant.parse("2026-12-01T09:00:00Z"));
		assertThat(get(newSession())).hasStatusOk().bodyText().contains(NOT_YET);
		var page = get(before());
		assertThat(page).bodyText()
			.contains("no on 20 Nov 2026, asked by practitioner", "counts until 20 Nov 2027", "ask again",
					"Pregnant or could be: no on 20 Nov 2026", "as last time");
		var stale = new ArrayList<String>();
		this.database.sql("""
				select id || ':' || version from screening_answer
				where item in ('infection_site', 'infection_systemic', 'pregnancy', 'skin_cancer_suspect')""")
			.query(String.class)
			.list()
			.forEach((token) -> stale.addAll(List.of("shown", token)));
		assertThat(post(before() + "/as-last-time", stale.toArray(String[]::new))).hasStatus3xxRedirection();
		assertThat(get(newSession())).hasStatusOk().bodyText().doesNotContain(NOT_YET);
		assertThat(this.database.sql("select count(*) from screening_answer where asked_on = '2026-12-01'")
			.query(Long.class)
			.single()).isEqualTo(4);
	}

	@Test
	void radiofrequencyBringsItsItemsWhateverWasPlanned() {
		post(before() + "/plan", "radiofrequency", "false", "prilocaine", "false", "planVersion", "");
		assertThat(get(before())).bodyText().doesNotContain("Pacemaker", "Methaemoglobinaemia");
		post(before() + "/plan", "radiofrequency", "true", "prilocaine", "true", "planVersion", "0");
		assertThat(get(before())).bodyText().contains("Pacemaker", "Methaemoglobinaemia");
		assertThat(post(before() + "/plan", "radiofrequency", "false", "planVersion", "0"))
			.hasStatus(HttpStatus.CONFLICT);
	}

	@Test
	void aSessionFromPaperIsNotHeldUpAndSaysThatItWasNotScreened() {
		assertThat(get(newSession() + "?paper=true")).hasStatusOk();
		var answer = post(newSession(), "number", "1", "treatedOn", "2026-11-19", "practitioner",
				this.staffId("practitioner"));
		assertThat(answer).hasStatus3xxRedirection();
		assertThat(get(answer.getResponse().getRedirectedUrl())).bodyText().contains("screening not recorded");
		var today = post(newSession(), "number", "2", "treatedOn", "2026-11-20", "practitioner",
				this.staffId("practitioner"), "weightKg", "61.5");
		assertThat(today).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Not recorded: the screening is not cleared", "61.5", before());
	}

	@Test
	void theMinutesOfTheCreamAndTheWeightGoIntoTheSession() {
		answerAll();
		consent();
		post(before() + "/weight", "weightKg", "61.5", "weighedOn", "2026-11-20");
		post(newSession(), "draft", "true", "number", "1", "treatedOn", "2026-11-20");
		post(before() + "/numbing/start", "numbingStart", "08:20");
		assertThat(get(before())).bodyText().contains("On since 08:20", "data-numbing-seconds=\"2400\"");
		assertThat(post(before() + "/numbing/start", "numbingStart", "08:30"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		this.clock.advance(Duration.ofMinutes(5));
		assertThat(post(before() + "/numbing/stop", "numbing", numbing(), "numbingStop", "")).hasStatus3xxRedirection();
		assertThat(get(before())).bodyText().contains("08:20 to 09:05, 45 min");
		assertThat(get(newSession())).bodyText()
			.contains("name=\"topicalMinutes\" value=\"45\"", "name=\"weightKg\" value=\"61.5\"",
					"By the clock of today: 45 minutes.");
		assertThat(this.database.sql("select content ->> 'topicalMinutes' from session_draft")
			.query(String.class)
			.single()).isEqualTo("45");
		assertThat(post(before() + "/numbing/correct", "corrected", numbing(), "correctedStart", "08:25",
				"correctedStop", "09:00", "correctedReason", "read off the wall clock"))
			.hasStatus3xxRedirection();
		assertThat(get(before())).bodyText().contains("08:25 to 09:00, 35 min");
		assertThat(this.database.sql("select content ->> 'topicalMinutes' from session_draft")
			.query(String.class)
			.single()).isEqualTo("35");
		assertThat(get("/history/numbing/" + id("numbing"))).bodyText().contains("read off the wall clock");
	}

	@Test
	void thePatientIsToBeThereEarlierByTheMinutesOfTheCream() {
		this.database.sql("""
				insert into appointment (patient_id, practitioner_id, starts_at, ends_at, purpose, status,
					starts_offset_minutes, ends_offset_minutes)
				values (?, ?, '2026-11-23T10:00Z', '2026-11-23T11:00Z', 'treatment', 'booked', 0, 0)""")
			.params(this.patient.value(), this.given.practitioner().value())
			.update();
		post(before() + "/numbing/plan", "numbingMinutes", "35", "numbingPlanVersion", "");
		assertThat(get(before())).bodyText().contains("to be there at 09:25, for 35 minutes of cream");
		assertThat(this.screening.numbingPlanOf(this.patient).orElseThrow().minutes()).isEqualTo(35);
	}

	@Test
	void theWeightSetsTheReferenceLimitAndSaysWhenItIsTooOld() {
		this.given.weight(this.given.session(this.series, 1, "2026-01-05"), "70");
		assertThat(get(before())).bodyText().contains("Older than 180 days");
		post(before() + "/weight", "weightKg", "60", "weighedOn", "2026-11-20");
		// 4.5 mg/kg and 60 kg: US prescribing information, 270 mg
		assertThat(get(before())).bodyText().contains("without epinephrine: 270.0 mg");
		assertThat(RefusedForm
			.messages(post(before() + "/weight", "weightKg", "62", "weighedOn", "2026-11-20", "weightVersion", "0")))
			.containsEntry("weightReason", "There is a weight of 20 Nov 2026 already, 60 kg. Say why it is changed.");
		assertThat(post(before() + "/weight", "weightKg", "62", "weighedOn", "2026-11-20", "weightVersion", "7",
				"weightReason", "slip"))
			.hasStatus(HttpStatus.CONFLICT)
			.bodyText()
			.contains("Somebody changed this in the meantime", "value=\"62\"");
		assertThat(post(before() + "/weight", "weightKg", "62", "weighedOn", "2026-11-20", "weightVersion", "0",
				"weightReason", "slip"))
			.hasStatus3xxRedirection();
		assertThat(get("/history/body_weight/" + id("body_weight"))).bodyText().contains("60", "62", "slip");
	}

	@Test
	void aWithdrawnConsentStopsAtOnce() {
		answerAll();
		consent();
		assertThat(get(newSession())).hasStatusOk().bodyText().doesNotContain(NOT_YET);
		var token = this.database.sql("select id || ':' || version from treatment_consent")
			.query(String.class)
			.single();
		assertThat(post(before() + "/consent/withdraw", "consent", token, "consentEndsOn", "2026-11-20",
				"consentEndReason", "by telephone"))
			.hasStatus3xxRedirection();
		assertThat(get(newSession())).hasStatusOk().bodyText().contains(NOT_YET);
		assertThat(get(before())).bodyText().contains("withdrawn on 20 Nov 2026: by telephone");
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', nullValues = "-",
			value = { "weight|weightKg|0|weightKg|30 to 300", "weight|weightKg|500|weightKg|30 to 300",
					"weight|weightKg|abc|weightKg|30 to 300", "weight|weightKg|-|weightKg|-",
					"weight|weighedOn|2026-11-21|weighedOn|Enter today, 20 Nov 2026, or an earlier day.",
					"weight|weighedOn|soon|weighedOn|Enter a date as year-month-day",
					"weight|weighedOn|-9999-01-01|weighedOn|Enter a day from 1900 on.",
					"consent|consentGivenOn|2026-11-21|consentGivenOn|Enter today, 20 Nov 2026, or an earlier day.",
					"consent|documentReference|-|documentReference|-",
					"numbing/start|numbingStart|09:30|numbingStart|Enter a time that has passed.",
					"numbing/start|numbingStart|25:00|numbingStart|Enter hours and minutes",
					"numbing/plan|numbingMinutes|301|numbingMinutes|0 to 300",
					"numbing/plan|numbingMinutes|-5|numbingMinutes|0 to 300" })
	void saysAtItsFieldWhatToMend(String form, String changed, String value, String field, String message) {
		var fields = new LinkedHashMap<String, String>();
		switch (form) {
			case "weight" -> fields.putAll(Map.of("weightKg", "61", "weighedOn", "2026-11-20"));
			case "consent" -> fields.putAll(Map.of("consentGivenOn", "2026-11-20", "documentReference", "C-1"));
			default -> {
			}
		}
		fields.put(changed, (value != null) ? value : "");
		var answer = post(before() + "/" + form,
				fields.entrySet()
					.stream()
					.flatMap((entry) -> Stream.of(entry.getKey(), entry.getValue()))
					.toArray(String[]::new));
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(answer)).containsKey(field);
		if (message != null) {
			assertThat(RefusedForm.messages(answer).get(field)).contains(message);
		}
	}

	@Test
	void saysOfAnswersWhatToMendAndKeepsThem() {
		var later = answer("isotretinoin", "yes", "", field2("isotretinoin", "lastDoseOn"), "2026-11-21",
				field2("isotretinoin", "note"), "from a colleague");
		assertThat(later).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT).bodyText().contains("from a colleague");
		assertThat(RefusedForm.messages(later)).containsEntry(field("answers", "isotretinoin", "lastDoseOn"),
				"Enter today or an earlier day.");
		assertThat(RefusedForm.messages(answer("isotretinoin", "yes", ""))).containsEntry(
				field("answers", "isotretinoin", "lastDoseOn"),
				"Enter the day of the last dose, or say in the note what is known of it.");
		assertThat(RefusedForm.messages(answer("bleeding", "", "", field2("bleeding", "note"), "aspirin")))
			.containsKey(field("answers", "bleeding", "answer"));
		assertThat(answer("bleeding", "perhaps", "")).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		answer("bleeding", "yes", "", field2("bleeding", "note"), "aspirin");
		assertThat(RefusedForm.messages(answer("bleeding", "no", "0"))).containsKey("changeReason");
		assertThat(answer("bleeding", "no", "", "changeReason", "stopped earlier")).hasStatus(HttpStatus.CONFLICT)
			.bodyText()
			.contains("aspirin", "Somebody changed this in the meantime");
		assertThat(get(before())).bodyText().doesNotContain("advise stopping", "stop taking");
	}

	@Test
	void aStopIsNotBeforeItsStart() {
		post(before() + "/numbing/start", "numbingStart", "08:40");
		var early = post(before() + "/numbing/stop", "numbing", numbing(), "numbingStop", "08:30");
		assertThat(RefusedForm.messages(early)).containsEntry("numbingStop",
				"Enter a time that is not before the start.");
		assertThat(RefusedForm.messages(post(before() + "/numbing/stop", "numbing", numbing(), "numbingStop", "09:30")))
			.containsEntry("numbingStop", "Enter a time that has passed.");
		assertThat(RefusedForm.messages(post(before() + "/numbing/correct", "corrected", numbing(), "correctedStart",
				"08:50", "correctedStop", "08:45", "correctedReason", "")))
			.containsKey("correctedReason");
		assertThat(RefusedForm.messages(post(before() + "/numbing/correct", "corrected", numbing(), "correctedStart",
				"08:50", "correctedStop", "08:45", "correctedReason", "slip")))
			.containsEntry("correctedStop", "Enter a time that is not before the start.");
		assertThat(RefusedForm.messages(post(before() + "/numbing/correct", "corrected", UNKNOWN_ENTRY.replace(":", ""),
				"correctedStart", "", "correctedReason", "slip")))
			.containsKeys("corrected", "correctedStart");
		this.database.sql("update numbing set version = version + 1").update();
		var stale = numbing().replaceFirst(":.*", ":0");
		assertThat(post(before() + "/numbing/stop", "numbing", stale)).hasStatus(HttpStatus.CONFLICT);
		assertThat(post(before() + "/numbing/stop", "numbing", UNKNOWN_ENTRY))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@ParameterizedTest
	@ValueSource(strings = { "screening_plan", "screening_answer", "screening_decision", "treatment_consent",
			"body_weight", "numbing", "numbing_plan" })
	void anErasureLeavesNothingOfIt(String table) {
		answerAll("keloid_tendency", "yes");
		consent();
		decide("keloid_tendency", "yes", "may_treat", "old", "");
		decide("keloid_tendency", "yes", "not_today", "on second thoughts", "0");
		post(before() + "/plan", "radiofrequency", "true", "planVersion", "");
		post(before() + "/weight", "weightKg", "61", "weighedOn", "2026-11-20");
		post(before() + "/numbing/start", "numbingStart", "08:40");
		post(before() + "/numbing/plan", "numbingMinutes", "35", "numbingPlanVersion", "");
		assertThat(count(table)).isPositive();
		this.database.sql("select erase_patient(?, now(), null, 'patient_request', null)")
			.params(this.patient.value())
			.query()
			.listOfRows();
		assertThat(count(table)).isZero();
		assertThat(this.database.sql("select count(*) from previous_version where table_name = ?")
			.params(table)
			.query(Long.class)
			.single()).isZero();
	}

	private List<String> all(String... changed) {
		var fields = new ArrayList<String>();
		for (var item : ScreeningItem.values()) {
			if (item == ScreeningItem.CONSENT_MISSING || item == ScreeningItem.AGE_UNDER_18) {
				continue;
			}
			var own = changed.length > 0 && changed[0].equals(item.word());
			fields.addAll(List.of(field2(item.word(), "item"), item.word(), field2(item.word(), "answer"),
					own ? changed[1] : "no"));
			if (own && changed.length > 2) {
				fields.addAll(List.of(field2(item.word(), changed[2]), changed[3]));
			}
		}
		return fields;
	}

	private void answerAll(String... changed) {
		assertThat(post(before() + "/answers", all(changed).toArray(String[]::new))).hasStatus3xxRedirection();
	}

	private MvcTestResult answer(String item, String answer, String version, String... more) {
		var fields = new ArrayList<String>(
				List.of(field2(item, "item"), item, field2(item, "answer"), answer, field2(item, "version"), version));
		fields.addAll(List.of(more));
		return post(before() + "/answers", fields.toArray(String[]::new));
	}

	private MvcTestResult decide(String item, String about, String verdict, String reason, String version) {
		var row = "decisions[" + ScreeningItem.valueOf(item.toUpperCase(Locale.ROOT)).ordinal() + "].";
		return post(before() + "/decisions", row + "item", item, row + "about", about, row + "verdict", verdict,
				row + "reason", reason, row + "version", version);
	}

	private static String field2(String item, String field) {
		return "answers[" + ScreeningItem.valueOf(item.toUpperCase(Locale.ROOT)).ordinal() + "]." + field;
	}

	private static String field(String rows, String item, String field) {
		return rows + ScreeningItem.valueOf(item.toUpperCase(Locale.ROOT)).ordinal() + "." + field;
	}

	private void consent() {
		assertThat(post(before() + "/consent", "consentGivenOn", "2026-11-20", "documentReference", "C-12"))
			.hasStatus3xxRedirection();
	}

	private String numbing() {
		return this.database.sql("select id || ':' || version from numbing").query(String.class).single();
	}

	private String id(String table) {
		return this.database.sql("select id::text from " + table).query(String.class).single();
	}

	private long count(String table) {
		return this.database.sql("select count(*) from " + table).query(Long.class).single();
	}

	private String staffId(String name) {
		return this.database.sql("select id::text from staff where name = ?").params(name).query(String.class).single();
	}

	private String before() {
		return "/patients/" + this.patient + "/before";
	}

	private String newSession() {
		return "/series/" + this.series + "/sessions/new";
	}

	private MvcTestResult get(String address) {
		return this.browser.get().uri(address).exchange();
	}

	private MvcTestResult post(String address, String... fields) {
		var request = this.browser.post().uri(address).with(csrf());
		for (int at = 0; at < fields.length; at += 2) {
			request.param(fields[at], fields[at + 1]);
		}
		return request.exchange();
	}

	private MvcTestResult postAs(Role role, String address, String... fields) {
		var request = this.browser.post().uri(address).with(csrf()).with(this.staff.as(role));
		for (int at = 0; at < fields.length; at += 2) {
			request.param(fields[at], fields[at + 1]);
		}
		return request.exchange();
	}

}
