package org.seriatim.finding.web;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Stream;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.seriatim.access.Role;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.finding.FindingKind;
import org.seriatim.followup.CurrentAdvice;
import org.seriatim.patient.PatientId;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;

/** A finding of the session of 2 November 2026, on 20 November. */
@PageTest
@SignedInAs(Role.PRACTITIONER)
class FindingPageTests {

	@Autowired
	MockMvcTester browser;

	@Autowired
	JdbcClient database;

	@Autowired
	TestStaff staff;

	@Autowired
	CurrentAdvice advice;

	private TestTreatment treatment;

	private PatientId patient;

	private SeriesId series;

	private SessionId session;

	private ScarId scar;

	@BeforeEach
	void treatSomebody() {
		this.treatment = new TestTreatment(this.database);
		this.patient = this.treatment.patient("K1");
		this.series = this.treatment.series(this.patient);
		this.session = this.treatment.session(this.series, 1, "2026-11-02");
		this.scar = this.treatment.scar(this.patient, "CHT7", Region.CHEEK_MEDIAL_LEFT);
	}

	@Test
	void reportsALumpWithEverythingThatIsKnown() {
		assertThat(get(newFinding() + "?session=" + this.session)).hasStatusOk()
			.bodyText()
			.contains("value=\"2026-11-20\"", "Session 1, 2 Nov 2026", "CHT7, Left medial cheek");
		var answer = send(newFinding(), "kind", "lump", "session", this.session, "region", "cheek_medial_left", "scar",
				this.scar, "firstNotedOn", "2026-11-05", "grade", "1", "gradeScale", "ctcae_6", "serious", "false",
				"note", "felt on pressing");
		assertThat(answer).hasStatus(HttpStatus.FOUND).flash().containsEntry("notice", "finding.reported");
		assertThat(finding()).containsEntry("kind", "lump")
			.containsEntry("scar_id", this.scar.value())
			.containsEntry("session_id", this.session.value())
			.containsEntry("grade", 1)
			.containsEntry("grade_scale", "ctcae_6")
			.containsEntry("serious", false)
			.containsEntry("note", "felt on pressing")
			.containsEntry("raised_at", null);
		assertThat(get("/findings/" + id())).hasStatusOk()
			.bodyText()
			.contains("Lump, CHT7", "Session 1, 2 Nov 2026", "1 (CTCAE 6.0)", "last present on day 3, not seen gone",
					"felt on pressing", "Only a practitioner closes a finding");
		assertThat(audited("created", "finding")).isOne();
		assertThat(audited("opened", "patient")).isPositive();
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', value = { "kind||kind|Choose what it is.",
			"kind|nodule|kind|Choose one of the values offered.",
			"firstNotedOn||firstNotedOn|Enter the day on which it was first noted.",
			"firstNotedOn|20.11.2026|firstNotedOn|Enter a date as year-month-day, for example 2026-03-21.",
			"firstNotedOn|2026-11-21|firstNotedOn|Enter today, 20 Nov 2026, or an earlier day.",
			"firstNotedOn|2026-11-01|firstNotedOn|The session was on 2 Nov 2026; enter that day or a later one.",
			"region|elbow|region|Choose one of the values offered.",
			"region|nose|region|Scar CHT7 lies in another region: Left medial cheek.",
			"scar|01980000-0000-7000-8000-000000000000|scar|Choose a scar of this patient.",
			"session|01980000-0000-7000-8000-000000000000|session|Choose a session of this patient.",
			"session|no-id|session|Choose one of the values offered.", "grade|6|grade|A grade is 1 to 5.",
			"grade|severe|grade|Enter a whole number.",
			"grade|5|criteria|Grade 5 is death; tick it as the reason, or choose another grade.",
			"criteria|death|grade|Death is grade 5.", "criteria|worse|criteria|Choose one of the values offered.",
			"serious|true|criteria|Tick at least one reason for which it is serious.",
			"course|fatal|course|Fatal is what led to death, which is then a reason for which it is serious.",
			"course|dead|course|Choose one of the values offered.",
			"onsetFirst|2026-11-06|onsetFirst|It was first noted on 5 Nov 2026; enter that day or an earlier one.",
			"onsetFirst|2026-11-01|onsetFirst|The session was on 2 Nov 2026; enter that day or a later one.",
			"onsetFirst|early|onsetFirst|Enter a date as year-month-day, for example 2026-03-21.",
			"onsetLast|2026-11-04|onsetFirst|Enter the first of the two days.",
			"side|right|side|The region lies on the other side: Left medial cheek.",
			"side|top|side|Choose one of the values offered.", "visibility|4|visibility|Felt and seen is 1 to 3.",
			"visibility|high|visibility|Enter a whole number.",
			"noticedBy|dog|noticedBy|Choose one of the values offered.",
			"howReported|letter|howReported|Choose one of the values offered.",
			"signs|hiccups|signs|Choose one of the values offered.", "kind|other|note|Say in the note what it is.",
			"gradeScale|ctcae_4|gradeScale|Choose one of the values offered.",
			"goneOn|2026-11-04|goneOn|It was first noted on 5 Nov 2026; enter that day or a later one.",
			"goneOn|2026-11-21|goneOn|Enter today, 20 Nov 2026, or an earlier day.",
			"kind|granuloma|histology|Without histology it is recorded as a delayed inflammatory nodule, a lump or another kind." })
	void saysAtItsFieldWhatToMendAndKeepsWhatWasTyped(String changed, String value, String field, String message) {
		var fields = new LinkedHashMap<String, Object>(Map.of("kind", "lump", "session", this.session, "region",
				"cheek_medial_left", "scar", this.scar, "firstNotedOn", "2026-11-05", "note", "kept words"));
		fields.put(changed, (value != null) ? value : "");
		if ("other".equals(value)) {
			fields.remove("note");
		}
		var answer = send(newFinding(),
				fields.entrySet().stream().flatMap((entry) -> Stream.of(entry.getKey(), entry.getValue())).toArray());
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("other".equals(value) ? "2026-11-05" : "kept words");
		assertThat(RefusedForm.messages(answer)).containsEntry(field, message);
		assertThat(count("finding")).isZero();
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', value = {
			"onsetFirst=2026-11-04 onsetLast=2026-11-03|onsetLast|The first of the two days is 4 Nov 2026; enter that day or a later one.",
			"onsetFirst=2026-11-03 onsetLast=2026-11-06|onsetLast|It was first noted on 5 Nov 2026; enter that day or an earlier one.",
			"serious=false criteria=disability|serious|Any one of the reasons that are ticked makes it serious.",
			"kind=bruise visibility=2|visibility|Only a lump, a nodule or a granuloma is described like that. Leave it empty.",
			"kind=bruise inflammatory=true|inflammatory|Only a lump, a nodule or a granuloma is described like that. Leave it empty.",
			"grade=4 criteria=death|grade|Death is grade 5." })
	void refusesWhatContradictsItself(String typed, String field, String message) {
		var fields = new LinkedHashMap<String, Object>(Map.of("kind", "lump", "firstNotedOn", "2026-11-05"));
		for (var pair : typed.split(" ")) {
			fields.put(pair.split("=")[0], pair.split("=")[1]);
		}
		var answer = send(newFinding(),
				fields.entrySet().stream().flatMap((entry) -> Stream.of(entry.getKey(), entry.getValue())).toArray());
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(answer)).containsEntry(field, message);
		assertThat(count("finding")).isZero();
	}

	@Test
	void putsAnOverlongNoteBack() {
		var answer = send(newFinding(), "kind", "bruise", "firstNotedOn", "2026-11-05", "note", "x".repeat(2001));
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(answer)).containsKey("note");
	}

	@Test
	void tellsGradeVisibilityAndSeriousnessApart() {
		assertThat(send(newFinding(), "kind", "lump", "session", this.session, "region", "cheek_medial_left",
				"firstNotedOn", "2026-11-08", "onsetFirst", "2026-11-05", "onsetLast", "2026-11-08", "noticedBy",
				"relative", "howReported", "photograph", "grade", "2", "gradeScale", "ctcae_5", "visibility", "3",
				"inflammatory", "true", "criteria", "medically_important", "course", "improving"))
			.hasStatus(HttpStatus.FOUND);
		assertThat(finding()).containsEntry("serious", true).containsEntry("visibility", 3).containsEntry("grade", 2);
		assertThat(get("/findings/" + id())).bodyText()
			.contains("between 5 Nov 2026 and 8 Nov 2026", "day 3 to 6 after session 1: early (day 0 to 14)",
					"2 (CTCAE 5.0)", "3, easily palpable, clearly visible", "a relative or friend", "by photograph",
					"yes: another medically important event", "improving");
		assertThat(status()).as("serious holds treatment").isEqualTo("HOLD");
	}

	@Test
	void warnsOfGradeThreeWithoutAnyCriterionAndTakesIt() {
		assertThat(
				send(newFinding(), "kind", "erythema", "firstNotedOn", "2026-11-05", "grade", "3", "serious", "false"))
			.hasStatus(HttpStatus.FOUND);
		assertThat(get("/findings/" + id())).bodyText()
			.contains("Grade 3 without any reason for which it would be serious.");
	}

	@Test
	void leavesWhatABundleCalledSeriousAsItIs() {
		report("bruise", "2026-11-03");
		this.database.sql("update finding set serious = true, version = 1").update();
		assertThat(get("/findings/" + id())).bodyText().contains("It is on record as serious, and the reason is not.");
		assertThat(send("/findings/" + id() + "/edit", "kind", "bruise", "firstNotedOn", "2026-11-03", "serious",
				"true", "note", "seen again", "version", "1", "reason", "note added"))
			.hasRedirectedUrl("/findings/" + id());
	}

	@Test
	void callsALumpByItsSizeAndKeepsOnlyTheSize() {
		report("lump", "2026-11-05");
		observe("2026-11-12", "true", "4.9");
		observe("2026-11-13", "true", "5");
		assertThat(get("/findings/" + id())).bodyText().contains("4.9 mm, papule", "5 mm, nodule");
	}

	/* What clinical.md 9.1 says of the onset, and 7.1 of the lot. */
	@Test
	void namesTheLatestSessionInTheRegionItsLotAndTheEarlierOnes() {
		this.treatment.injection(this.session, Region.CHEEK_MEDIAL_LEFT, this.scar);
		var second = this.treatment.session(this.series, 2, "2026-11-10");
		this.treatment.injection(second, Region.CHEEK_MEDIAL_LEFT, null);
		var elsewhere = this.treatment.session(this.series, 3, "2026-11-15");
		this.treatment.injection(elsewhere, Region.CHIN, null);
		this.database
			.sql("insert into preparation (session_id, number, product, lot) values (?, 1, 'invented', 'L-77')")
			.param(second.value())
			.update();
		assertThat(send(newFinding(), "kind", "lump", "session", this.session, "scar", this.scar, "firstNotedOn",
				"2026-11-19"))
			.hasStatus(HttpStatus.FOUND);
		assertThat(get("/findings/" + id())).bodyText()
			.contains("day 9 after session 2", "invented, lot L-77",
					"Session 2, 10 Nov 2026 is the latest in this region before it began; it is counted from Session 1, 2 Nov 2026.");
	}

	@Test
	void opensTheCautionForASignWhateverTheKind() {
		var answer = send(newFinding(), "kind", "bruise", "firstNotedOn", "2026-11-05", "signs", "mottling");
		assertThat(answer).hasRedirectedUrl("/patients/" + this.patient + "/emergency");
		assertThat(this.database.sql("select kind from finding order by kind").query(String.class).list())
			.containsExactly("bruise", "vascular_compromise");
	}

	@Test
	void raisesASignThoughTheRestIsRefused() {
		var answer = send(newFinding(), "kind", "", "firstNotedOn", "2026-11-05", "signs", "vision");
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(finding()).containsEntry("kind", "visual_symptom").doesNotContainEntry("raised_at", null);
	}

	@Test
	void givesASignOfItsOwnKindToTheFindingItself() {
		assertThat(send(newFinding(), "kind", "vascular_compromise", "firstNotedOn", "2026-11-05", "signs", "mottling"))
			.hasRedirectedUrl("/patients/" + this.patient + "/emergency");
		assertThat(get("/findings/" + id())).bodyText().contains("A net-like or mottled pattern of the skin");
		assertThat(send("/findings/" + id() + "/observations/new", "observedOn", "2026-11-19", "reporter",
				"practitioner", "channel", "visit", "present", "true", "signs", "cool"))
			.hasRedirectedUrl("/patients/" + this.patient + "/emergency");
		assertThat(get("/findings/" + id())).bodyText().contains("Cool or dusky skin");
	}

	@Test
	void asksAgainAtAnObservation() {
		report("bruise", "2026-11-05");
		assertThat(send("/findings/" + id() + "/observations/new", "signs", "stroke"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(this.database.sql("select count(*) from finding where kind = 'neuro_symptom'")
			.query(Integer.class)
			.single()).isOne();
		assertThat(count("finding_observation")).as("of the sign alone").isOne();
	}

	@Test
	void correctsByANewVersionWithAReason() {
		report("bruise", "2026-11-03");
		assertThat(RefusedForm.messages(
				send("/findings/" + id() + "/edit", "kind", "erythema", "firstNotedOn", "2026-11-03", "version", "0")))
			.containsEntry("reason", "Say why it is corrected.");
		assertThat(send("/findings/" + id() + "/edit", "kind", "erythema", "firstNotedOn", "2026-11-03", "version", "0",
				"reason", "looked again"))
			.hasRedirectedUrl("/findings/" + id());
		assertThat(get("/findings/" + id())).bodyText()
			.contains("Erythema", "Earlier versions", "Bruise", "looked again");
		assertThat(get("/history/finding/" + id())).hasStatusOk().bodyText().contains("Bruise", "Erythema");
		assertThat(send("/findings/" + id() + "/edit", "kind", "pih", "firstNotedOn", "2026-11-03", "version", "0",
				"reason", "too late"))
			.hasStatus(HttpStatus.CONFLICT);
	}

	@Test
	void holdsTreatmentUntilAPractitionerHasClosedIt() {
		report("infection_local", "2026-11-10");
		assertThat(status()).isEqualTo("HOLD");
		assertThat(send("/findings/" + id() + "/observations/new", "observedOn", "2026-11-18", "reporter",
				"practitioner", "channel", "visit", "present", "false"))
			.hasRedirectedUrl("/findings/" + id());
		assertThat(status()).as("absent closes nothing").isEqualTo("HOLD");
		assertThat(send(close(), "closedOn", "2026-11-19", "reason", "healed, skin closed", "version", "0"))
			.hasRedirectedUrl("/findings/" + id());
		assertThat(status()).isNotEqualTo("HOLD");
		assertThat(finding()).containsEntry("closing_reason", "healed, skin closed");
		assertThat(get("/findings/" + id())).bodyText()
			.contains("Closed 19 Nov 2026 by practitioner: healed, skin closed");
		assertThat(send("/findings/" + id() + "/reopen", "reason", "", "version", "1"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(send("/findings/" + id() + "/reopen", "reason", "came back", "version", "1"))
			.hasRedirectedUrl("/findings/" + id());
		assertThat(status()).isEqualTo("HOLD");
		assertThat(finding()).containsEntry("closed_on", null).containsEntry("closing_reason", null);
		assertThat(audited("decided", "finding")).isEqualTo(2);
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|',
			value = { "2026-11-21|healed|closedOn|Enter today, 20 Nov 2026, or an earlier day.",
					"2026-11-09|healed|closedOn|It was first noted on 10 Nov 2026; enter that day or a later one.",
					"|healed|closedOn|Enter the day on which it is closed.", "2026-11-19||reason|Say why it is closed.",
					"yesterday|healed|closedOn|Enter a date as year-month-day, for example 2026-03-21." })
	void closesOnlyWithADayAndAReason(String day, String reason, String field, String message) {
		report("infection_local", "2026-11-10");
		var answer = send(close(), "closedOn", (day != null) ? day : "", "reason", (reason != null) ? reason : "",
				"version", "0");
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(answer)).containsEntry(field, message);
		assertThat(status()).isEqualTo("HOLD");
	}

	@Test
	void isClosedByAPractitionerOnly() {
		report("infection_local", "2026-11-10");
		for (var role : List.of(Role.CLINIC_LEAD, Role.ASSISTANT, Role.FRONT_DESK, Role.ADMINISTRATOR)) {
			assertThat(this.browser.post()
				.uri(close())
				.with(SecurityMockMvcRequestPostProcessors.csrf())
				.with(this.staff.as(role))
				.param("closedOn", "2026-11-19")
				.param("reason", "healed")
				.param("version", "0")).as(role.name()).hasStatus(HttpStatus.FORBIDDEN);
		}
	}

	@Test
	void showsNoFindingToTheFrontDesk() {
		report("bruise", "2026-11-10");
		assertThat(this.browser.get().uri("/findings/" + id()).with(this.staff.as(Role.FRONT_DESK)))
			.hasStatus(HttpStatus.FORBIDDEN);
		assertThat(this.browser.get().uri("/findings/" + id()).with(this.staff.as(Role.ASSISTANT))).hasStatusOk()
			.bodyText()
			.doesNotContain("/observations/new", "/edit", "/close");
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|',
			value = { "observedOn|2026-11-21|observedOn|Enter today, 20 Nov 2026, or an earlier day.",
					"observedOn|2026-11-01|observedOn|The session was on 2 Nov 2026; enter that day or a later one.",
					"observedOn||observedOn|Enter the day.", "reporter||reporter|Choose who reported it.",
					"channel|letter|channel|Choose one of the values offered.",
					"present||present|Choose present or absent.",
					"sizeMm|0|sizeMm|Enter a number from 0.1 to 200 mm with at most 1 decimal.",
					"sizeMm|big|sizeMm|Enter a number from 0.1 to 200 mm with at most 1 decimal." })
	void refusesAnObservationThatCannotBe(String changed, String value, String field, String message) {
		report("lump", "2026-11-05");
		var fields = new LinkedHashMap<String, Object>(Map.of("observedOn", "2026-11-12", "reporter", "patient",
				"channel", "phone", "present", "true", "sizeMm", "4"));
		fields.put(changed, (value != null) ? value : "");
		var answer = send("/findings/" + id() + "/observations/new",
				fields.entrySet().stream().flatMap((entry) -> Stream.of(entry.getKey(), entry.getValue())).toArray());
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(answer)).containsEntry(field, message);
		assertThat(count("finding_observation")).isZero();
	}

	@Test
	void keepsOneObservationOfADayReporterAndChannel() {
		report("lump", "2026-11-05");
		observe("2026-11-12", "true", "4.5");
		assertThat(RefusedForm.messages(observe("2026-11-12", "false", ""))).containsEntry("observedOn",
				"There is an observation of this day by the same person and channel. Correct that one.");
		assertThat(RefusedForm.messages(observe("2026-11-13", "false", "3"))).containsEntry("sizeMm",
				"What is absent has no size. Leave it empty.");
		var observation = this.database.sql("select id from finding_observation").query(UUID.class).single();
		assertThat(send("/observations/" + observation + "/edit", "observedOn", "2026-11-12", "reporter", "patient",
				"channel", "phone", "present", "false", "version", "0", "reason", "misheard"))
			.hasRedirectedUrl("/findings/" + id());
		assertThat(get("/findings/" + id())).bodyText().contains("last present on day 3, absent by day 10", "misheard");
	}

	@Test
	void takesAnObservationBeforeItWasFirstNotedAsAQuestion() {
		report("lump", "2026-11-09");
		assertThat(observe("2026-11-06", "true", "")).hasRedirectedUrl("/findings/" + id());
		assertThat(get("/findings/" + id())).bodyText()
			.contains("Present on 6 Nov 2026, before it was first noted; left out of the course.");
	}

	@ParameterizedTest
	@EnumSource(mode = EnumSource.Mode.INCLUDE, names = { "VASCULAR_COMPROMISE", "VISUAL_SYMPTOM", "LA_TOXICITY" })
	void recordsARedFlagAtOnceWhateverElseIsWrong(FindingKind kind) {
		var answer = send(newFinding(), "kind", kind.word(), "firstNotedOn", "2026-11-30", "note", "kept words");
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Possible emergency. Follow this clinic", "kept words", "/findings/" + id() + "/edit");
		assertThat(finding()).containsEntry("kind", kind.word()).doesNotContainEntry("raised_at", null);
		assertThat(status()).isEqualTo("HOLD");
	}

	@Test
	void neverTurnsAPossibleEmergencyIntoSomethingElse() {
		report("skin_necrosis", "2026-11-05");
		var answer = send("/findings/" + id() + "/edit", "kind", "bruise", "firstNotedOn", "2026-11-05", "version", "0",
				"reason", "only a bruise");
		assertThat(RefusedForm.messages(answer)).containsEntry("kind",
				"A possible emergency is closed with a reason; it cannot become another kind.");
		assertThat(finding()).containsEntry("kind", "skin_necrosis");
	}

	@Test
	void showsTheCautionAsSoonAsTheKindIsChosen() {
		var caution = "/patients/" + this.patient + "/findings/caution?kind=";
		assertThat(get(caution + "visual_symptom")).hasStatusOk().bodyText().contains("Follow this clinic");
		assertThat(get(caution + "lump")).hasStatusOk().bodyText().doesNotContain("emergency");
		assertThat(get(caution + "lump&signs=mottling")).hasStatusOk().bodyText().contains("Follow this clinic");
	}

	@Test
	void knowsNoFindingOfAnother() {
		assertThat(get("/findings/01980000-0000-7000-8000-000000000000")).hasStatus(HttpStatus.NOT_FOUND);
		assertThat(get("/patients/01980000-0000-7000-8000-000000000000/findings/new")).hasStatus(HttpStatus.NOT_FOUND);
	}

	private String newFinding() {
		return "/patients/" + this.patient + "/findings/new";
	}

	private String close() {
		return "/findings/" + id() + "/close";
	}

	private void report(String kind, String firstNotedOn) {
		assertThat(send(newFinding(), "kind", kind, "session", this.session, "firstNotedOn", firstNotedOn))
			.hasStatus(HttpStatus.FOUND);
	}

	private MvcTestResult observe(String day, String present, String size) {
		return send("/findings/" + id() + "/observations/new", "observedOn", day, "reporter", "patient", "channel",
				"phone", "present", present, "sizeMm", size);
	}

	private String status() {
		return this.advice.of(this.series).map((standing) -> standing.advice().status().name()).orElse("none");
	}

	private UUID id() {
		return this.database.sql("select id from finding").query(UUID.class).single();
	}

	private Map<String, Object> finding() {
		return this.database.sql("select * from finding").query().singleRow();
	}

	private int count(String table) {
		return this.database.sql("select count(*) from " + table).query(Integer.class).single();
	}

	private int audited(String action, String kind) {
		return this.database.sql("select count(*) from audit_entry where action = ? and kind = ?")
			.params(action, kind)
			.query(Integer.class)
			.single();
	}

	private MvcTestResult get(String address) {
		return this.browser.get().uri(address).exchange();
	}

	private MvcTestResult send(String address, Object... fields) {
		var request = this.browser.post().uri(address).with(SecurityMockMvcRequestPostProcessors.csrf());
		for (int i = 0; i < fields.length; i += 2) {
			request.param(fields[i].toString(), fields[i + 1].toString());
		}
		return request.exchange();
	}

}
