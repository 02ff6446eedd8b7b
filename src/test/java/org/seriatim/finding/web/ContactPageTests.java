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
import org.seriatim.access.Role;
import org.seriatim.assessment.Region;
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
import org.springframework.security.core.userdetails.UserDetails;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;

/** Contacts after the session of 2 November 2026, on 20 November. */
@PageTest
@SignedInAs(Role.PRACTITIONER)
class ContactPageTests {

	@Autowired
	MockMvcTester browser;

	@Autowired
	JdbcClient database;

	@Autowired
	TestStaff staff;

	@Autowired
	CurrentAdvice advice;

	private PatientId patient;

	private SeriesId series;

	private SessionId session;

	@BeforeEach
	void treatSomebody() {
		var treatment = new TestTreatment(this.database);
		this.patient = treatment.patient("K1");
		this.series = treatment.series(this.patient);
		this.session = treatment.session(this.series, 1, "2026-11-02");
		treatment.scar(this.patient, "CHT7", Region.CHEEK_MEDIAL_LEFT);
	}

	@Test
	void recordsWhatThePatientSaid() {
		assertThat(send(newContact(), "outcome", "reached", "contactedOn", "2026-11-17", "channel", "phone",
				"lumpsPresent", "false", "painNrs", "1", "note", "a little tight"))
			.hasRedirectedUrl("/patients/" + this.patient);
		assertThat(this.database.sql("select * from contact").query().singleRow()).containsEntry("outcome", "reached")
			.containsEntry("lumps_present", false)
			.containsEntry("pain_nrs", 1)
			.containsEntry("note", "a little tight")
			.containsEntry("channel", "phone");
		assertThat(status()).as("the answer is known").isEqualTo("WINDOW");
		assertThat(get("/series/" + this.series)).bodyText().contains("a little tight", "/contacts/" + contact());
		assertThat(count("audit_entry where action = 'created' and kind = 'contact'")).isOne();
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', value = { "outcome||outcome|Choose whether the patient was reached.",
			"outcome|perhaps|outcome|Choose one of the values offered.",
			"outcome|no_answer|outcome|Nobody was reached, so leave lumps and pain empty.",
			"contactedOn||contactedOn|Enter the day.",
			"contactedOn|2026-11-21|contactedOn|Enter today, 20 Nov 2026, or an earlier day.",
			"contactedOn|2026-11-01|contactedOn|The session was on 2 Nov 2026; enter that day or a later one.",
			"contactedOn|x|contactedOn|Enter a date as year-month-day, for example 2026-03-21.",
			"channel|letter|channel|Choose one of the values offered.", "channel||channel|Choose how it was reported.",
			"painNrs|11|painNrs|Enter a whole number from 0 to 10.",
			"painNrs|2.5|painNrs|Enter a whole number from 0 to 10.",
			"lumpsPresent|maybe|lumpsPresent|Choose one of the values offered." })
	void saysAtItsFieldWhatToMendAndKeepsWhatWasTyped(String changed, String value, String field, String message) {
		var fields = new LinkedHashMap<String, String>(Map.of("outcome", "reached", "contactedOn", "2026-11-17",
				"channel", "phone", "lumpsPresent", "false", "painNrs", "1", "note", "kept words"));
		fields.put(changed, (value != null) ? value : "");
		var answer = send(newContact(),
				fields.entrySet().stream().flatMap((entry) -> Stream.of(entry.getKey(), entry.getValue())).toArray());
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT).bodyText().contains("kept words");
		assertThat(RefusedForm.messages(answer)).containsEntry(field, message);
		assertThat(count("contact")).isZero();
	}

	@Test
	void keepsOneContactOfADayAndChannel() {
		assertThat(reached("2026-11-17", "false")).hasStatus(HttpStatus.FOUND);
		assertThat(RefusedForm.messages(reached("2026-11-17", "true"))).containsEntry("contactedOn",
				"There is a contact of this day and channel. Correct that one.");
	}

	@Test
	void asksForEachLumpAndObservesItInTheSameStep() {
		var first = lump("2026-11-04");
		var second = lump("2026-11-04");
		assertThat(get(newContact())).bodyText()
			.contains("Lump, CHT7: still there?", "lumps[1].present", "action=\"" + newContact() + "\"",
					"After session 1 of 2 Nov 2026");
		assertThat(send(newContact(), "outcome", "reached", "contactedOn", "2026-11-17", "channel", "phone",
				"lumps[0].lump", first, "lumps[0].present", "true", "lumps[0].sizeMm", "3.5", "lumps[1].lump", second,
				"lumps[1].present", "false"))
			.hasStatus(HttpStatus.FOUND);
		assertThat(observed(first)).containsEntry("present", true).containsEntry("reporter", "patient");
		assertThat(observed(second)).containsEntry("present", false);
		assertThat(this.database.sql("select lumps_present from contact").query(Boolean.class).single()).isTrue();
		assertThat(status()).isEqualTo("WAIT_FOR_CONTACT");
		assertThat(get(newContact())).as("what is gone is not asked for again")
			.bodyText()
			.doesNotContain("lumps[1].present");
	}

	@Test
	void takesNoLumpAtAllForEachOfThem() {
		var lump = lump("2026-11-04");
		reached("2026-11-17", "false");
		assertThat(observed(lump)).containsEntry("present", false).containsEntry("channel", "phone");
		assertThat(this.database.sql("select closed_on from finding").query().singleRow()).as("absent closes nothing")
			.containsEntry("closed_on", null);
	}

	@Test
	void doesNotTakeNoneAndOneThatIsThere() {
		var lump = lump("2026-11-04");
		var answer = send(newContact(), "outcome", "reached", "contactedOn", "2026-11-17", "channel", "phone",
				"lumpsPresent", "false", "lumps[0].lump", lump, "lumps[0].present", "true");
		assertThat(RefusedForm.messages(answer)).containsEntry("lumpsPresent",
				"One lump is marked as still there, so there is a lump.");
		assertThat(count("contact") + count("finding_observation")).isZero();
	}

	@Test
	void writesNothingWhereAnObservationOfThatDaySaysOtherwise() {
		var lump = lump("2026-11-04");
		this.database.sql("""
				insert into finding_observation (finding_id, observed_on, reporter, channel, present)
				values (?, '2026-11-17', 'patient', 'phone', true)""").param(lump).update();
		assertThat(RefusedForm.messages(reached("2026-11-17", "false"))).containsKey("lumpsPresent");
		assertThat(count("contact")).isZero();
	}

	@Test
	void leadsOnToALumpThatIsNotOnRecord() {
		assertThat(reached("2026-11-17", "true"))
			.hasRedirectedUrl("/patients/" + this.patient + "/findings/new?session=" + this.session);
		assertThat(status()).isEqualTo("WAIT_FOR_CONTACT");
	}

	@Test
	void letsTheFrontDeskAskWithoutShowingAnyFinding() {
		lump("2026-11-04");
		var desk = this.staff.member(Role.FRONT_DESK);
		assertThat(as(desk, newContact())).hasStatusOk()
			.bodyText()
			.contains("Is there any lump now?")
			.doesNotContain("CHT7", "lumps[0]");
		assertThat(this.browser.post()
			.uri(newContact())
			.with(SecurityMockMvcRequestPostProcessors.csrf())
			.with(this.staff.as(desk))
			.param("outcome", "reached")
			.param("contactedOn", "2026-11-17")
			.param("channel", "phone")
			.param("lumpsPresent", "true")).hasRedirectedUrl("/patients/" + this.patient);
		assertThat(as(this.staff.member(Role.ADMINISTRATOR), newContact())).hasStatus(HttpStatus.FORBIDDEN);
	}

	@Test
	void correctsByANewVersionWithAReason() {
		reached("2026-11-17", "false");
		var edit = "/contacts/" + contact() + "/edit";
		assertThat(RefusedForm.messages(
				send(edit, "outcome", "declined", "contactedOn", "2026-11-17", "channel", "phone", "version", "0")))
			.containsEntry("reason", "Say why it is corrected.");
		assertThat(send(edit, "outcome", "declined", "contactedOn", "2026-11-17", "channel", "phone", "version", "0",
				"reason", "wrong patient"))
			.hasRedirectedUrl("/patients/" + this.patient);
		assertThat(get(edit)).bodyText().contains("Earlier versions", "wrong patient", "Reached");
		assertThat(send(edit, "outcome", "no_answer", "contactedOn", "2026-11-17", "channel", "phone", "version", "0",
				"reason", "too late"))
			.hasStatus(HttpStatus.CONFLICT);
	}

	@Test
	void raisesTheCautionFirstWhateverElseIsRefused() {
		var answer = send(newContact(), "signs", "vision", "signs", "mottling", "contactedOn", "2026-11-30", "note",
				"kept words");
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Follow this clinic", "kept words");
		assertThat(this.database.sql("select kind from finding order by kind").query(String.class).list())
			.containsExactly("vascular_compromise", "visual_symptom");
		assertThat(count("contact")).isZero();
		assertThat(status()).isEqualTo("HOLD");
		assertThat(send(newContact(), "signs", "vision", "outcome", "reached", "contactedOn", "2026-11-20", "channel",
				"phone"))
			.hasRedirectedUrl("/patients/" + this.patient + "/emergency");
		assertThat(count("finding")).as("told again it stays one").isEqualTo(2);
	}

	@Test
	void isOfferedOnTheFollowUpListAndOnTheRecord() {
		reached("2026-11-17", "false");
		for (var page : List.of("/follow-up", "/series/" + this.series, "/sessions/" + this.session,
				"/patients/" + this.patient)) {
			assertThat(get(page)).as(page).bodyText().contains(newContact());
		}
	}

	private String newContact() {
		return "/sessions/" + this.session + "/contacts/new";
	}

	private MvcTestResult reached(String day, String lumps) {
		return send(newContact(), "outcome", "reached", "contactedOn", day, "channel", "phone", "lumpsPresent", lumps);
	}

	private UUID lump(String firstNotedOn) {
		return this.database.sql("""
				insert into finding (code, patient_id, session_id, kind, scar_id, first_noted_on)
				select 'F' || (select count(*) from finding), ?, ?, 'lump', id, cast(? as date) from scar
				returning id""")
			.params(this.patient.value(), this.session.value(), firstNotedOn)
			.query(UUID.class)
			.single();
	}

	private Map<String, Object> observed(UUID lump) {
		return this.database.sql("select * from finding_observation where finding_id = ?")
			.param(lump)
			.query()
			.singleRow();
	}

	private UUID contact() {
		return this.database.sql("select id from contact").query(UUID.class).single();
	}

	private String status() {
		return this.advice.of(this.series).map((standing) -> standing.advice().status().name()).orElse("none");
	}

	private int count(String rows) {
		return this.database.sql("select count(*) from " + rows).query(Integer.class).single();
	}

	private MvcTestResult get(String address) {
		return this.browser.get().uri(address).exchange();
	}

	private MvcTestResult as(UserDetails person, String address) {
		return this.browser.get().uri(address).with(this.staff.as(person)).exchange();
	}

	private MvcTestResult send(String address, Object... fields) {
		var request = this.browser.post().uri(address).with(SecurityMockMvcRequestPostProcessors.csrf());
		for (int i = 0; i < fields.length; i += 2) {
			request.param(fields[i].toString(), fields[i + 1].toString());
		}
		return request.exchange();
	}

}
