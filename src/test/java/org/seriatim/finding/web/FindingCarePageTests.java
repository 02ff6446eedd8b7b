package org.seriatim.finding.web;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.access.Role;
import org.seriatim.assessment.Region;
import org.seriatim.patient.PatientId;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.TestClock;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * What is done about a lump of 5 November 2026 after the session of the 2nd, who judges
 * its cause and whether it is reported, on 20 November.
 */
@PageTest
class FindingCarePageTests {

	@Autowired
	MockMvcTester browser;

	@Autowired
	JdbcClient database;

	@Autowired
	TestStaff staff;

	@Autowired
	TestClock clock;

	private TestTreatment treatment;

	private PatientId patient;

	private SessionId session;

	private UUID finding;

	private String practitioner;

	@BeforeEach
	void findALump() {
		this.treatment = new TestTreatment(this.database);
		this.patient = this.treatment.patient("K1-SECRET");
		this.session = this.treatment.session(this.treatment.series(this.patient), 1, "2026-11-02");
		this.treatment.injection(this.session, Region.CHIN, null);
		this.staff.member(Role.PRACTITIONER);
		this.practitioner = staff("practitioner");
		post(Role.PRACTITIONER, "/patients/" + this.patient + "/findings/new", "kind", "lump", "session", this.session,
				"region", "chin", "firstNotedOn", "2026-11-05", "grade", "2", "gradeScale", "ctcae_6", "note",
				"words of the clinic");
		this.finding = this.database.sql("select id from finding").query(UUID.class).single();
	}

	@Test
	void standsBetweenTheObservationsWithItsVersions() {
		observe("2026-11-06", "4");
		observe("2026-11-15", "2");
		assertThat(act("doneOn", "2026-11-10", "action", "aspiration", "description", "clear fluid"))
			.hasRedirectedUrl("/findings/" + this.finding)
			.flash()
			.containsEntry("notice", "finding.action.recorded");
		assertThat(text(get(Role.PRACTITIONER, "/findings/" + this.finding))).containsSubsequence("6 Nov 2026", "day 4",
				"4 mm", "10 Nov 2026", "day 8", "Aspiration", "clear fluid", "15 Nov 2026", "2 mm");
		var action = this.database.sql("select id from finding_action").query(UUID.class).single();
		var edit = "/finding-actions/" + action + "/edit";
		assertThat(get(Role.PRACTITIONER, edit)).hasStatusOk().bodyText().contains("clear fluid");
		assertThat(RefusedForm.messages(post(Role.PRACTITIONER, edit, "doneOn", "2026-11-10", "action", "aspiration",
				"carriedOut", "home", "version", "0")))
			.containsEntry("reason", "Say why it is corrected.");
		assertThat(post(Role.CLINIC_LEAD, edit, "doneOn", "2026-11-10", "action", "massage", "carriedOut", "home",
				"version", "0", "reason", "done by the patient"))
			.hasRedirectedUrl("/findings/" + this.finding);
		assertThat(post(Role.PRACTITIONER, edit, "doneOn", "2026-11-10", "action", "warmth", "carriedOut", "home",
				"version", "0", "reason", "too late"))
			.hasStatus(HttpStatus.CONFLICT);
		assertThat(get(Role.PRACTITIONER, "/findings/" + this.finding)).bodyText()
			.contains("Massage", "at home", "/history/finding_action/" + action, "done by the patient");
		assertThat(get(Role.ASSISTANT, "/history/finding_action/" + action)).hasStatusOk()
			.bodyText()
			.contains("Aspiration", "Massage", "done by the patient");
		assertThat(this.database.sql("select count(*) from audit_entry where kind = 'finding_action'")
			.query(Integer.class)
			.single()).isGreaterThanOrEqualTo(2);
		assertThat(this.database.sql("select closed_on from finding").query().singleRow()).containsEntry("closed_on",
				null);
	}

	@Test
	void asksForNoDose() {
		assertThat(text(get(Role.PRACTITIONER, "/findings/" + this.finding + "/actions/new")))
			.contains("proposes no treatment and no dose")
			.doesNotContain("mL", "mg", "units");
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', value = { "doneOn||doneOn|Enter the day.",
			"doneOn|2026-11-21|doneOn|Enter today, 20 Nov 2026, or an earlier day.",
			"doneOn|2026-11-04|doneOn|It began on 5 Nov 2026 at the earliest; enter that day or a later one.",
			"doneOn|soon|doneOn|Enter a date as year-month-day, for example 2026-03-21.",
			"action||action|Choose what was done.", "action|magic|action|Choose one of the values offered.",
			"carriedOut||carriedOut|Choose where it was done.",
			"carriedOut|moon|carriedOut|Choose one of the values offered.",
			"carriedOut|home|doneBy|It was not done in the clinic, so leave this empty.",
			"doneBy||doneBy|Choose who did it in the clinic.", "doneBy|nobody|doneBy|Choose one of the values offered.",
			"doneBy|01980000-0000-7000-8000-000000000000|doneBy|Choose one of the values offered.",
			"action|other|description|Say in your own words what was done." })
	void refusesWhatCannotHaveBeenDone(String changed, @Nullable String value, String field, String message) {
		var answer = act(changed, (value != null) ? value : "");
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(answer)).containsEntry(field, message);
		assertThat(count("finding_action")).isZero();
	}

	@Test
	void putsOverlongWordsBack() {
		assertThat(RefusedForm.messages(act("description", "x".repeat(2001)))).containsKey("description");
		assertThat(RefusedForm.messages(decide("recipient", "x".repeat(201)))).containsKey("recipient");
	}

	@Test
	void isPendingUntilSomebodyJudgesTheCause() {
		var causality = "/findings/" + this.finding + "/causality";
		assertThat(get(Role.PRACTITIONER, "/findings/" + this.finding)).bodyText().contains("not assessed yet");
		assertThat(RefusedForm.messages(post(Role.PRACTITIONER, causality, "causality", "possible", "version", "0")))
			.containsEntry("assessor", "Choose who assessed it.")
			.containsEntry("assessedOn", "Enter the day on which it was assessed.");
		assertThat(RefusedForm.messages(judge("possible", "2026-11-21", 0, null))).containsEntry("assessedOn",
				"Enter today, 20 Nov 2026, or an earlier day.");
		assertThat(RefusedForm.messages(judge("possible", "2026-11-04", 0, null))).containsEntry("assessedOn",
				"It was first noted on 5 Nov 2026; enter that day or a later one.");
		assertThat(RefusedForm.messages(judge("sure", "2026-11-19", 0, null))).containsEntry("causality",
				"Choose one of the values offered.");
		assertThat(RefusedForm.messages(judge("", "2026-11-19", 0, null))).containsEntry("causality",
				"Choose a category.");
		this.staff.member(Role.FRONT_DESK);
		assertThat(RefusedForm.messages(post(Role.PRACTITIONER, causality, "causality", "possible", "assessor",
				staff("front_desk"), "assessedOn", "2026-11-19", "version", "0")))
			.containsEntry("assessor", "Choose a practitioner or a clinic lead.");
		assertThat(judge("possible", "2026-11-19", 0, null)).hasRedirectedUrl("/findings/" + this.finding);
		assertThat(get(Role.ASSISTANT, "/findings/" + this.finding)).bodyText()
			.contains("possible, assessed 19 Nov 2026 by practitioner");
		assertThat(RefusedForm.messages(judge("probable", "2026-11-20", 1, null))).containsEntry("reason",
				"Say why it is corrected.");
		assertThat(judge("probable", "2026-11-20", 1, "histology came")).hasStatus(HttpStatus.FOUND);
		assertThat(judge("unlikely", "2026-11-20", 1, "too late")).hasStatus(HttpStatus.CONFLICT);
		assertThat(get(Role.PRACTITIONER, "/history/finding/" + this.finding)).bodyText()
			.contains("possible", "probable", "histology came");
		assertThat(judge("", "", 2, "assessed the wrong finding")).hasStatus(HttpStatus.FOUND);
		assertThat(get(Role.PRACTITIONER, "/findings/" + this.finding)).bodyText().contains("not assessed yet");
	}

	@Test
	void keepsWhatWasDecidedOnReporting() {
		assertThat(get(Role.PRACTITIONER, "/findings/" + this.finding)).bodyText()
			.contains("Not considered yet", "Local law decides")
			.doesNotContain("is due by");
		assertThat(decide()).hasRedirectedUrl("/findings/" + this.finding);
		assertThat(decide("decision", "do_not_report", "decisionReason", "expected course", "recipient", "a maker"))
			.hasRedirectedUrl("/findings/" + this.finding);
		assertThat(text(get(Role.PRACTITIONER, "/findings/" + this.finding))).contains("12 Nov 2026, practitioner",
				"to be reported", "not to be reported", "expected course");
		var report = this.database.sql("select id from finding_report where decision = 'report'")
			.query(UUID.class)
			.single();
		assertThat(post(Role.PRACTITIONER, "/finding-reports/" + report + "/edit", "consideredOn", "2026-11-12",
				"consideredBy", this.practitioner, "decision", "report", "decisionReason", "asked by law", "recipient",
				"the authority", "sentOn", "2026-11-14", "reference", "R-1", "followUpDue", "2026-12-14", "version",
				"0", "reason", "sent"))
			.hasRedirectedUrl("/findings/" + this.finding);
		assertThat(get(Role.PRACTITIONER, "/findings/" + this.finding)).bodyText()
			.contains("14 Nov 2026, R-1", "14 Dec 2026", "/history/finding_report/" + report);
		assertThat(post(Role.PRACTITIONER, "/finding-reports/" + report + "/edit", "consideredOn", "2026-11-12",
				"consideredBy", this.practitioner, "decision", "report", "decisionReason", "too late", "version", "0",
				"reason", "stale"))
			.hasStatus(HttpStatus.CONFLICT);
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', value = { "consideredOn||consideredOn|Enter the day.",
			"consideredOn|2026-11-21|consideredOn|Enter today, 20 Nov 2026, or an earlier day.",
			"consideredOn|2026-11-04|consideredOn|It began on 5 Nov 2026 at the earliest; enter that day or a later one.",
			"consideredBy||consideredBy|Choose who considered it.",
			"consideredBy|01980000-0000-7000-8000-000000000000|consideredBy|Choose one of the values offered.",
			"decision||decision|Choose whether it is reported.",
			"decision|later|decision|Choose one of the values offered.", "decisionReason||decisionReason|Say why.",
			"sentOn|2026-11-21|sentOn|Enter today, 20 Nov 2026, or an earlier day.",
			"sentOn|2026-11-11|sentOn|It was considered on 12 Nov 2026; enter that day or a later one.",
			"sentOn|2026-11-13|recipient|Say to whom it was sent.",
			"reference|R-1|reference|Enter the day on which it was sent.",
			"followUpDue|2026-11-11|followUpDue|It was considered on 12 Nov 2026; enter that day or a later one." })
	void refusesADecisionThatCannotBe(String changed, @Nullable String value, String field, String message) {
		var answer = decide(changed, (value != null) ? value : "");
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(answer)).containsEntry(field, message);
		assertThat(count("finding_report")).isZero();
	}

	@Test
	void sendsNothingThatIsNotReported() {
		assertThat(RefusedForm.messages(decide("decision", "do_not_report", "sentOn", "2026-11-13", "recipient", "a")))
			.containsEntry("decision", "What is not reported has no day of sending, no reference and no follow-up.");
	}

	@Test
	void summarisesWithoutAnythingThatSaysWhoItIs() {
		this.database
			.sql("""
					update patient set family_name = 'Secretname', given_name = 'Hidden', birth_date = '1990-05-17', sex = 'female',
						phototype = 4, phone = '555-0199', email = 'hidden@example.org', version = version + 1""")
			.update();
		this.database
			.sql("""
					insert into preparation (session_id, number, product, lot, expires_on) values (?, 1, 'invented', 'L-77', '2027-03-31')""")
			.param(this.session.value())
			.update();
		act("doneOn", "2026-11-10", "action", "massage", "description", "words of the clinic");
		observe("2026-11-06", "4");
		var page = text(get(Role.PRACTITIONER, "/findings/" + this.finding + "/summary"));
		assertThat(page).contains("36 years", "Female", "IV", "Lump", "Chin", "day 3 after the session",
				"2 (CTCAE 6.0)", "not assessed yet", "invented, lot L-77, expires 2027-03-31", "day 4", "4 mm, papule",
				"day 8", "Massage");
		assertThat(page).doesNotContain("Secretname", "Hidden", "K1-SECRET", "1990", "555-0199", "hidden@example.org",
				"words of the clinic", "Nov 2026", "2026-11");
		assertThat(this.database.sql("select count(*) from audit_entry where action = 'opened' and patient_id = ?")
			.param(this.patient.value())
			.query(Integer.class)
			.single()).isPositive();
	}

	@Test
	void isForWhoMayDecide() {
		for (var page : List.of("/actions/new", "/reports/new", "/causality", "/summary")) {
			for (var role : List.of(Role.PRACTITIONER, Role.CLINIC_LEAD)) {
				assertThat(get(role, "/findings/" + this.finding + page)).as(role + page).hasStatusOk();
			}
			for (var role : List.of(Role.ASSISTANT, Role.FRONT_DESK, Role.ADMINISTRATOR)) {
				assertThat(get(role, "/findings/" + this.finding + page)).as(role + page)
					.hasStatus(HttpStatus.FORBIDDEN);
			}
			assertThat(this.browser.get().uri("/findings/" + this.finding + page)).as(page)
				.hasStatus(HttpStatus.FOUND)
				.redirectedUrl()
				.startsWith("/sign-in");
			assertThat(get(Role.PRACTITIONER, "/findings/01980000-0000-7000-8000-000000000000" + page))
				.hasStatus(HttpStatus.NOT_FOUND);
		}
	}

	@Test
	void listsOpenEmergenciesTheOneThatWaitsLongestFirst() {
		assertThat(get(Role.PRACTITIONER, "/emergencies")).bodyText().contains("No possible emergency is open");
		post(Role.FRONT_DESK, "/patients/" + this.patient + "/emergency", "signs", "vision");
		this.clock.advance(Duration.ofMinutes(5));
		var other = this.treatment.patient("K2");
		post(Role.FRONT_DESK, "/patients/" + other + "/emergency", "signs", "mottling");
		this.clock.advance(Duration.ofMinutes(7));
		assertThat(text(get(Role.PRACTITIONER, "/emergencies"))).containsSubsequence("K1-SECRET", "Visual symptom",
				"12 min", "waits for a practitioner", "K2", "Vascular compromise", "7 min");
		assertThat(get(Role.PRACTITIONER, "/patients/" + this.patient)).bodyText()
			.contains("no practitioner has acknowledged it yet, after 12 min");
		var vision = this.database.sql("select id from finding where kind = 'visual_symptom'")
			.query(UUID.class)
			.single();
		post(Role.PRACTITIONER, "/findings/" + vision + "/acknowledge");
		assertThat(text(get(Role.CLINIC_LEAD, "/emergencies"))).containsSubsequence("K2", "K1-SECRET",
				"by practitioner, after 12 min");
		assertThat(get(Role.PRACTITIONER, "/patients/" + this.patient)).bodyText()
			.contains("by practitioner, after 12 min");
		this.clock.advance(Duration.ofMinutes(48));
		post(Role.PRACTITIONER, "/findings/" + vision + "/close", "closedOn", "2026-11-20", "reason",
				"seen by a doctor", "version", "1");
		assertThat(get(Role.PRACTITIONER, "/findings/" + vision)).bodyText()
			.contains("closed 1 h 0 min after it was raised");
		assertThat(get(Role.PRACTITIONER, "/emergencies")).bodyText().doesNotContain("K1-SECRET");
		for (var role : List.of(Role.ASSISTANT, Role.FRONT_DESK, Role.ADMINISTRATOR)) {
			assertThat(get(role, "/emergencies")).hasStatus(HttpStatus.FORBIDDEN);
		}
	}

	/**
	 * Whitening at the lifted tip is an endpoint of an injection, lasting blanching a
	 * possible emergency: neither is ever written where the other stands.
	 */
	@Test
	void tellsWhiteningAtTheTipFromBlanchingThatLasts() {
		for (var whitening : List.of(true, false)) {
			this.database.sql("update injection set blanching = ?, version = version + 1").param(whitening).update();
			assertThat(this.database.sql("select count(*) from finding where raised_at is not null or signs <> '{}'")
				.query(Integer.class)
				.single()).as("an endpoint raises nothing").isZero();
			assertThat(get(Role.FRONT_DESK, "/patients/" + this.patient)).bodyText()
				.doesNotContain("Possible emergency. Follow");
		}
		this.database.sql("update injection set blanching = null, version = version + 1").update();
		post(Role.FRONT_DESK, "/patients/" + this.patient + "/emergency", "signs", "blanching");
		assertThat(this.database.sql("select blanching from injection").query().singleRow()).as("a sign is no endpoint")
			.containsEntry("blanching", null);
		assertThat(this.database.sql("select signs from finding where kind = 'vascular_compromise'")
			.query((row, index) -> row.getArray(1).toString())
			.single()).isEqualTo("{blanching}");
		assertThat(get(Role.PRACTITIONER, "/sessions/" + this.session + "/edit")).bodyText()
			.contains("Blanching at the tip")
			.doesNotContain("Pale skin that stays pale");
		assertThat(get(Role.PRACTITIONER, "/patients/" + this.patient + "/emergency")).bodyText()
			.contains("Pale skin that stays pale")
			.doesNotContain("Blanching at the tip");
	}

	@Test
	void leadsFromTheSheetOfASessionToTheCaution() {
		assertThat(
				get(Role.ASSISTANT,
						"/series/" + this.database.sql("select id from series").query(UUID.class).single()
								+ "/sessions/new?paper=true"))
			.bodyText()
			.contains("/patients/" + this.patient + "/emergency");
	}

	private MvcTestResult observe(String day, String size) {
		return post(Role.PRACTITIONER, "/findings/" + this.finding + "/observations/new", "observedOn", day, "reporter",
				"practitioner", "channel", "visit", "present", "true", "sizeMm", size);
	}

	private MvcTestResult act(Object... changed) {
		return changing("/findings/" + this.finding + "/actions/new", Map.of("doneOn", "2026-11-10", "action",
				"massage", "carriedOut", "clinic", "doneBy", this.practitioner), changed);
	}

	private MvcTestResult decide(Object... changed) {
		return changing("/findings/" + this.finding + "/reports/new", Map.of("consideredOn", "2026-11-12",
				"consideredBy", this.practitioner, "decision", "report", "decisionReason", "asked by law"), changed);
	}

	private MvcTestResult judge(String causality, String day, int version, @Nullable String reason) {
		return post(Role.PRACTITIONER, "/findings/" + this.finding + "/causality", "causality", causality, "assessor",
				this.practitioner, "assessedOn", day, "version", version, "reason", (reason != null) ? reason : "");
	}

	private MvcTestResult changing(String address, Map<String, String> usual, Object... changed) {
		var fields = new LinkedHashMap<String, Object>(usual);
		for (int i = 0; i < changed.length; i += 2) {
			fields.put(changed[i].toString(), changed[i + 1]);
		}
		return post(Role.PRACTITIONER, address,
				fields.entrySet().stream().flatMap((entry) -> Stream.of(entry.getKey(), entry.getValue())).toArray());
	}

	private String staff(String name) {
		return this.database.sql("select id from staff where name = ?")
			.param(name)
			.query(UUID.class)
			.single()
			.toString();
	}

	private int count(String table) {
		return this.database.sql("select count(*) from " + table).query(Integer.class).single();
	}

	/** What a person reads of the page's main part, in order. */
	private static String text(MvcTestResult result) {
		try {
			var html = result.getResponse().getContentAsString();
			var main = html.substring(html.indexOf("<main"), html.indexOf("</main>"));
			return main.replaceAll("<[^>]*>", " ").replaceAll("\\s+", " ");
		}
		catch (java.io.UnsupportedEncodingException ex) {
			throw new IllegalStateException(ex);
		}
	}

	private MvcTestResult get(Role role, String address) {
		return this.browser.get().uri(address).with(this.staff.as(role)).exchange();
	}

	private MvcTestResult post(Role role, String address, Object... fields) {
		var request = this.browser.post()
			.uri(address)
			.with(SecurityMockMvcRequestPostProcessors.csrf())
			.with(this.staff.as(role));
		for (int i = 0; i < fields.length; i += 2) {
			request.param(fields[i].toString(), fields[i + 1].toString());
		}
		return request.exchange();
	}

}
