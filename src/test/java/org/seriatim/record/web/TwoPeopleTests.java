package org.seriatim.record.web;

import java.util.Map;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.access.Role;
import org.seriatim.assessment.Region;
import org.seriatim.patient.PatientId;
import org.seriatim.support.OpenForm;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.core.userdetails.UserDetails;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Two people open the same form, one saves, then the other: neither loses anything. The
 * second one sees both versions, goes on with what each of them changed, looks it through
 * and saves it.
 */
@PageTest
class TwoPeopleTests {

	private final MockMvcTester browser;

	private final TestStaff staff;

	private final JdbcClient database;

	private final TestTreatment given;

	private UserDetails anna;

	private UserDetails bo;

	private PatientId patient;

	@Autowired
	TwoPeopleTests(MockMvcTester browser, TestStaff staff, JdbcClient database) {
		this.browser = browser;
		this.staff = staff;
		this.database = database;
		this.given = new TestTreatment(database);
	}

	@BeforeEach
	void aPatientAndTwoPeople() {
		this.anna = this.staff.named("a.venn", Role.CLINIC_LEAD, Role.PRACTITIONER);
		this.bo = this.staff.named("b.lindt", Role.PRACTITIONER, Role.CLINIC_LEAD);
		this.patient = new PatientId(this.database.sql("""
				insert into patient (record_number, family_name, given_name, phone, email)
				values ('K1', 'Tamm', 'Tove', '+00 555 0100', 't@example.org') returning id""")
			.query(UUID.class)
			.single());
	}

	@Test
	void correctAPatient() {
		both("/patients/" + this.patient + "/edit", Map.of("phone", "+00 555 0111", "reason", "new number"),
				Map.of("email", "tove@example.org", "reason", "moved"));
	}

	@Test
	void correctAPlan() {
		both("/series/" + this.given.series(this.patient) + "/edit", Map.of("goal", "cheeks", "reason", "asked again"),
				Map.of("plannedSessions", "5", "reason", "slow response"));
	}

	@Test
	void correctAnEnd() {
		var series = this.given.series(this.patient);
		this.given.end(series, "2026-11-01");
		both("/series/" + series + "/end", Map.of("endedOn", "2026-11-02"), Map.of("status", "stopped"));
	}

	@Test
	void correctASession() {
		both("/sessions/" + aSession() + "/edit", Map.of("weightKg", "61.5", "reason", "scales"),
				Map.of("injections[0].volumeMl", "0.4", "reason", "misread"));
	}

	@Test
	void addAnInjectionEach() {
		var address = "/sessions/" + aSession() + "/edit";
		var second = open(this.bo, address);
		save(this.anna, address, injection(open(this.anna, address), "nose").type("reason", "forgotten"));
		var conflict = send(this.bo, address, injection(second, "chin").type("reason", "forgotten too"));
		assertThat(conflict).hasStatus(HttpStatus.CONFLICT)
			.bodyText()
			.contains("Injection 2", "Region Nose", "Injection 3", "Region Chin");
		goOn(address, conflict);
		assertThat(this.database.sql("select region from injection order by number").query(String.class).list())
			.containsExactly("forehead", "nose", "chin");
	}

	@Test
	void takeAnInjectionOutWhileItIsCorrected() {
		var address = "/sessions/" + aSession() + "/edit";
		var second = open(this.bo, address);
		save(this.anna, address,
				open(this.anna, address).type("injections[0].volumeMl", "0.7").type("reason", "misread"));
		var conflict = send(this.bo, address, second.leaveOut("injections[0]").type("reason", "never given"));
		assertThat(conflict).hasStatus(HttpStatus.CONFLICT).bodyText().contains("not there", "both of you");
		goOn(address, conflict);
		assertThat(this.database.sql("select volume_ml::text from injection").query(String.class).list())
			.as("what the other one entered stays until somebody decides")
			.containsExactly("0.7");
	}

	@Test
	void correctATrackedScar() {
		both("/scars/" + this.given.scar(this.patient, "CHR1", Region.CHEEK_MEDIAL_RIGHT) + "/edit",
				Map.of("label", "R1", "reason", "shorter"), Map.of("firstRecordedOn", "2026-01-04", "reason", "slip"));
	}

	@Test
	void correctAnAssessment() {
		this.given.scar(this.patient, "CHR1", Region.CHEEK_MEDIAL_RIGHT);
		save(this.anna, "/patients/" + this.patient + "/assessments/new",
				open(this.anna, "/patients/" + this.patient + "/assessments/new").type("scars[0].severity", "3")
					.type("scars[0].lengthMm", "4"));
		both("/patients/" + this.patient + "/assessments/2026-11-20/" + staffId("a.venn") + "/edit",
				Map.of("scars[0].severity", "2", "pores[0].grade", "1", "reason", "looked again"),
				Map.of("scars[0].lengthMm", "5", "pores[6].grade", "4", "reason", "slip"));
	}

	@Test
	void correctCounts() {
		save(this.anna, "/patients/" + this.patient + "/counts",
				open(this.anna, "/patients/" + this.patient + "/counts").type("regions[0].icePick", "7"));
		both("/patients/" + this.patient + "/counts/2026-11-20/" + staffId("a.venn") + "/edit",
				Map.of("regions[0].icePick", "8", "regions[1].boxcar", "2", "reason", "counted again"),
				Map.of("regions[2].rolling", "3", "reason", "forgotten"));
	}

	@Test
	void correctADraft() {
		this.given.screened(this.patient, "2026-11-20");
		var address = "/series/" + this.given.series(this.patient) + "/sessions/new";
		var draft = send(this.anna, address,
				open(this.anna, address).type("draft", "true").type("injections[0].region", "nose"));
		assertThat(draft).hasStatus3xxRedirection();
		var kept = draft.getResponse().getRedirectedUrl();
		var second = open(this.bo, kept);
		save(this.anna, kept, open(this.anna, kept).type("draft", "true").type("weightKg", "61.5"));
		var conflict = send(this.bo, kept, second.type("draft", "true").type("painNrs", "4"));
		assertThat(conflict).hasStatus(HttpStatus.CONFLICT).bodyText().contains("61.5", "saved by a.venn");
		var merged = send(this.bo, kept, OpenForm.on(conflict));
		assertThat(merged).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		save(this.bo, kept, OpenForm.on(merged).type("draft", "true"));
		assertThat(open(this.anna, kept)).satisfies((form) -> {
			assertThat(form.value("weightKg")).isEqualTo("61.5");
			assertThat(form.value("painNrs")).isEqualTo("4");
		});
	}

	@Test
	void correctAContact() {
		aSession();
		var contact = this.database.sql("""
				insert into contact (patient_id, session_id, contacted_on, channel, outcome)
				select patient_id, id, '2026-10-08', 'phone', 'reached' from session returning id""")
			.query(UUID.class)
			.single();
		both("/contacts/" + contact + "/edit", Map.of("painNrs", "3", "reason", "misheard"),
				Map.of("note", "will call back", "reason", "forgotten"));
	}

	@Test
	void correctAFinding() {
		both("/findings/" + aLump() + "/edit", Map.of("grade", "2", "reason", "looked again"),
				Map.of("region", "chin", "reason", "slip"));
	}

	@Test
	void correctAnObservation() {
		var observation = this.database.sql("""
				insert into finding_observation (finding_id, observed_on, reporter, channel, present, size_mm)
				values (:finding, '2026-10-12', 'practitioner', 'visit', true, 4) returning id""")
			.param("finding", aLump())
			.query(UUID.class)
			.single();
		both("/observations/" + observation + "/edit", Map.of("sizeMm", "5", "reason", "measured again"),
				Map.of("observedOn", "2026-10-13", "reason", "slip"));
	}

	@Test
	void publishAProtocol() {
		both("/setup/protocol/new", Map.of("baseDays", "49", "note", "longer"),
				Map.of("windowDays", "10", "note", "narrower"));
	}

	@Test
	void choosesForEachFieldThatBothChanged() {
		var address = "/patients/" + this.patient + "/edit";
		var second = open(this.bo, address);
		save(this.anna, address, open(this.anna, address).type("phone", "+00 555 0111").type("reason", "new"));
		var conflict = send(this.bo, address, second.type("phone", "+00 555 0122").type("reason", "misheard"));
		assertThat(conflict).hasStatus(HttpStatus.CONFLICT)
			.bodyText()
			.contains("Telephone", "+00 555 0111", "+00 555 0122", "both of you", "saved by a.venn on 20 Nov 2026");
		assertThat(OpenForm.on(conflict).value("phone")).isEqualTo("+00 555 0122");
		var merged = send(this.bo, address, OpenForm.on(conflict).type("phone", "+00 555 0111"));
		save(this.bo, address, OpenForm.on(merged));
		assertThat(open(this.bo, address).value("phone")).isEqualTo("+00 555 0111");
	}

	@Test
	void seesTheNewestVersionWhenAThirdOneWasFasterAgain() {
		var address = "/patients/" + this.patient + "/edit";
		var second = open(this.bo, address);
		save(this.anna, address, open(this.anna, address).type("phone", "+00 555 0111").type("reason", "new"));
		var merged = send(this.bo, address,
				OpenForm.on(send(this.bo, address, second.type("givenName", "Tuva").type("reason", "slip"))));
		save(this.anna, address, open(this.anna, address).type("phone", "+00 555 0133").type("reason", "again"));
		assertThat(send(this.bo, address, OpenForm.on(merged))).hasStatus(HttpStatus.CONFLICT)
			.bodyText()
			.contains("+00 555 0133", "Tuva");
	}

	@Test
	void staysWithWhatIsStoredWhenTheSecondOneDropsTheirs() {
		var address = "/patients/" + this.patient + "/edit";
		var second = open(this.bo, address);
		save(this.anna, address, open(this.anna, address).type("phone", "+00 555 0111").type("reason", "new"));
		send(this.bo, address, second.type("phone", "+00 555 0122").type("reason", "misheard"));
		assertThat(open(this.bo, address).value("phone")).isEqualTo("+00 555 0111");
	}

	/** Both change something else, and in the end both changes are there. */
	private void both(String address, Map<String, String> first, Map<String, String> later) {
		var second = open(this.bo, address);
		var opened = open(this.anna, address);
		first.forEach(opened::type);
		save(this.anna, address, opened);
		later.forEach(second::type);
		var conflict = send(this.bo, address, second);
		assertThat(conflict).hasStatus(HttpStatus.CONFLICT)
			.bodyText()
			.contains("both versions stand side by side", "saved by a.venn on 20 Nov 2026", "the other person");
		var merged = goOn(address, conflict);
		var now = open(this.anna, merged);
		first.forEach((field, value) -> assertThat(isAboutTheChange(field) ? value : now.value(field)).as(field)
			.isEqualTo(value));
		later.forEach((field, value) -> assertThat(isAboutTheChange(field) ? value : now.value(field)).as(field)
			.isEqualTo(value));
	}

	private static boolean isAboutTheChange(String field) {
		return field.equals("reason") || field.equals("note");
	}

	/** Takes what is proposed, looks at the form, saves it. */
	private String goOn(String address, MvcTestResult conflict) {
		var merged = send(this.bo, address, OpenForm.on(conflict));
		assertThat(merged).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("put together from both versions")
			.doesNotContain("Please mend this first");
		save(this.bo, address, OpenForm.on(merged));
		return address;
	}

	private OpenForm open(UserDetails who, String address) {
		var page = this.browser.get().uri(address).with(this.staff.as(who)).exchange();
		assertThat(page).hasStatusOk();
		return OpenForm.on(page);
	}

	private void save(UserDetails who, String address, OpenForm form) {
		assertThat(send(who, address, form)).hasStatus3xxRedirection();
	}

	private MvcTestResult send(UserDetails who, String address, OpenForm form) {
		return form
			.into(this.browser.post()
				.uri(address)
				.with(this.staff.as(who))
				.with(SecurityMockMvcRequestPostProcessors.csrf()))
			.exchange();
	}

	private static OpenForm injection(OpenForm form, String region) {
		return form.type("injections[1].number", "2")
			.type("injections[1].region", region)
			.type("injections[1].target", "pores")
			.type("injections[1].volumeMl", "0.2")
			.type("vesselsSeen", "true");
	}

	private UUID aSession() {
		var session = this.given.session(this.given.series(this.patient), 1, "2026-10-05");
		this.given.injection(session, Region.FOREHEAD, null);
		return session.value();
	}

	private UUID aLump() {
		aSession();
		return this.database.sql("""
				insert into finding (code, patient_id, session_id, kind, region, first_noted_on)
				select 'F1', patient_id, id, 'lump', 'forehead', '2026-10-10' from session returning id""")
			.query(UUID.class)
			.single();
	}

	private UUID staffId(String name) {
		return this.database.sql("select id from staff where name = :name")
			.param("name", name)
			.query(UUID.class)
			.single();
	}

}
