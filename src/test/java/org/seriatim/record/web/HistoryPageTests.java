package org.seriatim.record.web;

import java.time.LocalDate;
import java.util.Map;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.access.Role;
import org.seriatim.support.PageTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestStaff;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import static org.assertj.core.api.Assertions.assertThat;

@PageTest
@SignedInAs(Role.ASSISTANT)
class HistoryPageTests {

	private final MockMvcTester browser;

	private final JdbcClient database;

	private final TestStaff staff;

	private UUID patient = new UUID(0, 0);

	private UUID scar = new UUID(0, 0);

	@Autowired
	HistoryPageTests(MockMvcTester browser, JdbcClient database, TestStaff staff) {
		this.browser = browser;
		this.database = database;
		this.staff = staff;
	}

	@BeforeEach
	void registerPatient() {
		this.patient = id("insert into patient (record_number, family_name) values ('K1', 'Tamm') returning id");
		this.scar = this.database.sql("""
				insert into scar (patient_id, label, region, type, first_recorded_on)
				values (:patient, 'CML1', 'cheek_medial_left', 'boxcar', :day) returning id""")
			.param("patient", this.patient)
			.param("day", LocalDate.of(2026, 1, 5))
			.query(UUID.class)
			.single();
	}

	@Test
	void showsVersionsSideBySideWithWhoWhenAndWhy() {
		this.database.sql("""
				update scar set type = 'rolling', version = 1, recorded_at = '2026-11-20T08:30:00Z',
					recorded_by = (select id from staff where name = 'assistant'), correction_reason = 'looked again'
				where id = :id""").param("id", this.scar).update();
		assertThat(this.browser.get().uri("/history/scar/" + this.scar)).hasStatusOk()
			.bodyText()
			.contains("Versions: tracked scar", "Version 2", "holds now", "assistant, 20 Nov 2026, 08:30",
					"looked again", "Version 1", "Rolling", "Boxcar", "changed", "Left medial cheek", "5 Jan 2026",
					"Tamm")
			.doesNotContain("??", this.patient + "<");
		assertThat(this.database.sql("select count(*) from audit_entry where action = 'opened' and entry_id = :id")
			.param("id", this.scar)
			.query(Integer.class)
			.single()).isEqualTo(1);
	}

	@Test
	void namesWhatAnEntryRefersTo() {
		var series = this.database
			.sql("""
					insert into series (patient_id, number, status, protocol_version) values (:patient, 1, 'open', 1) returning id""")
			.param("patient", this.patient)
			.query(UUID.class)
			.single();
		var session = this.database.sql("""
				insert into session (patient_id, series_id, number, treated_on, practitioner_id, vibration)
				values (:patient, :series, 3, :day, (select id from staff limit 1), true) returning id""")
			.param("patient", this.patient)
			.param("series", series)
			.param("day", LocalDate.of(2026, 3, 2))
			.query(UUID.class)
			.single();
		var preparation = this.database
			.sql("insert into preparation (session_id, number, product) values (:session, 1, 'Powder A') returning id")
			.param("session", session)
			.query(UUID.class)
			.single();
		var finding = this.database.sql("""
				insert into finding (code, patient_id, session_id, kind, first_noted_on, scar_id)
				values ('F-1', :patient, :session, 'lump', :day, :scar) returning id""")
			.param("patient", this.patient)
			.param("session", session)
			.param("day", LocalDate.of(2026, 3, 3))
			.param("scar", this.scar)
			.query(UUID.class)
			.single();
		var observation = this.database.sql("""
				insert into finding_observation (finding_id, observed_on, reporter, channel, present)
				values (:finding, :day, 'patient', 'phone', false) returning id""")
			.param("finding", finding)
			.param("day", LocalDate.of(2026, 3, 9))
			.query(UUID.class)
			.single();
		assertThat(this.browser.get().uri("/history/session/" + session)).hasStatusOk()
			.bodyText()
			.contains("2 Mar 2026", "Yes", "assistant");
		assertThat(this.browser.get().uri("/history/preparation/" + preparation)).hasStatusOk()
			.bodyText()
			.contains("Tamm", "Powder A", "3 (2026-03-02)");
		assertThat(this.browser.get().uri("/history/finding/" + finding)).hasStatusOk()
			.bodyText()
			.contains("Lump", "CML1");
		assertThat(this.browser.get().uri("/history/finding_observation/" + observation)).hasStatusOk()
			.bodyText()
			.contains("Tamm", "F-1", "No", "phone");
	}

	@Test
	void showsAFirstVersionThatWasImported() {
		assertThat(this.browser.get().uri("/history/patient/" + this.patient)).hasStatusOk()
			.bodyText()
			.contains("Version 1", "imported, ", "Tamm")
			.doesNotContain("changed<", "??");
	}

	@ParameterizedTest
	@CsvSource({ "account", "staff", "nonsense", "audit_entry" })
	void answersWhatKeepsNoVersionsWithNotFound(String kind) {
		assertThat(this.browser.get().uri("/history/" + kind + "/" + this.scar)).hasStatus(HttpStatus.NOT_FOUND);
	}

	@Test
	void answersAnUnknownEntryWithNotFound() {
		assertThat(this.browser.get().uri("/history/scar/" + UUID.randomUUID())).hasStatus(HttpStatus.NOT_FOUND);
		assertThat(this.browser.get().uri("/history/scar/nonsense")).hasStatus(HttpStatus.BAD_REQUEST);
	}

	@ParameterizedTest
	@CsvSource({ "FRONT_DESK", "ADMINISTRATOR" })
	void isClosedToThoseWhoSeeNoClinicalRecord(Role role) {
		assertThat(this.browser.get().uri("/history/scar/" + this.scar).with(this.staff.as(role)))
			.hasStatus(HttpStatus.FORBIDDEN);
	}

	@Test
	void sendsStrangersToTheSignIn() {
		assertThat(this.browser.get()
			.uri("/history/scar/" + this.scar)
			.with(SecurityMockMvcRequestPostProcessors.anonymous())).redirectedUrl().endsWith("/sign-in");
	}

	/**
	 * Every kind that keeps versions stands on a page that leads to them. An assistant,
	 * who corrects nothing, sees them all the same.
	 */
	@Test
	void isReachedFromEveryKindOfEntry() {
		var entries = everyKindOfEntry();
		assertThat(entries.keySet()).as("""
				kinds that keep versions; a new one needs a page that leads to them, by a link to \
				/history/<kind>/<id> or by the fragment fragments/corrections, and a line here""")
			.containsAll(this.database.sql("""
					select relname from pg_class where relname <> 'session_draft'
						and (relname = 'patient' or exists (select from pg_attribute where attrelid = pg_class.oid
							and attname in ('patient_id', 'session_id', 'finding_id')))
						and exists (select from pg_trigger
						where tgrelid = pg_class.oid and tgfoid = to_regproc('keep_previous_version'))""")
				.query(String.class)
				.list());
		entries.forEach((kind, entry) -> {
			this.database
				.sql("update %s set version = version + 1, correction_reason = 'looked again' where id = :id"
					.formatted(kind))
				.param("id", entry.id())
				.update();
			assertThat(this.browser.get().uri(entry.page()).with(this.staff.as(Role.ASSISTANT)).exchange()).as(kind)
				.hasStatusOk()
				.bodyText()
				.as("%s on %s", kind, entry.page())
				.containsPattern("/history/" + kind + "/" + entry.id() + "|\\d+ corrections?<");
			assertThat(this.browser.get().uri("/history/" + kind + "/" + entry.id())).as(kind)
				.hasStatusOk()
				.bodyText()
				.contains("looked again");
		});
	}

	private record Entry(UUID id, String page) {
	}

	private Map<String, Entry> everyKindOfEntry() {
		var staff = id("select id from staff limit 1");
		var series = insert("series (patient_id, number, status, protocol_version)",
				"'%s', 1, 'open', (select max(number) from protocol_version)".formatted(this.patient));
		var session = insert("session (patient_id, series_id, number, treated_on, practitioner_id)",
				"'%s', '%s', 1, '2026-11-01', '%s'".formatted(this.patient, series, staff));
		var preparation = insert("preparation (session_id, number, product)", "'%s', 1, 'product'".formatted(session));
		var injection = insert("injection (patient_id, session_id, number, region, target)",
				"'%s', '%s', 1, 'nose', 'pores'".formatted(this.patient, session));
		var finding = insert("finding (code, patient_id, kind, first_noted_on)",
				"'A1', '%s', 'lump', '2026-11-02'".formatted(this.patient));
		var observation = insert("finding_observation (finding_id, observed_on, reporter, channel, present)",
				"'%s', '2026-11-03', 'patient', 'phone', true".formatted(finding));
		var action = insert("finding_action (patient_id, finding_id, done_on, action, carried_out)",
				"'%s', '%s', '2026-11-04', 'massage', 'home'".formatted(this.patient, finding));
		var report = insert("finding_report (patient_id, finding_id, considered_on, considered_by, decision, reason)",
				"'%s', '%s', '2026-11-05', '%s', 'do_not_report', 'mild'".formatted(this.patient, finding, staff));
		var scarState = insert("scar_state (patient_id, scar_id, assessed_on, assessor_id, state)",
				"'%s', '%s', '2026-11-10', '%s', 'not_found'".formatted(this.patient, this.scar, staff));
		var contact = insert("contact (patient_id, session_id, contacted_on, channel, outcome)",
				"'%s', '%s', '2026-11-03', 'phone', 'no_answer'".formatted(this.patient, session));
		var assessed = "'%s', '2026-11-10', '%s', ".formatted(this.patient, staff);
		var rating = insert("scar_assessment (patient_id, assessed_on, assessor_id, repeat, scar_id, severity)",
				assessed + "0, '" + this.scar + "', 2");
		var count = insert("scar_count (patient_id, assessed_on, assessor_id, region, type, count)",
				assessed + "'nose', 'boxcar', 3");
		var pores = insert("pore_assessment (patient_id, assessed_on, assessor_id, region, grade)",
				assessed + "'nose', 2");
		var scale = insert("global_assessment (patient_id, assessed_on, assessor_id, scale, item, value)",
				assessed + "'gais', 'practitioner', 1");
		var appointment = insert(
				"appointment (patient_id, practitioner_id, starts_at, ends_at, starts_offset_minutes, ends_offset_minutes, purpose, status)",
				"'%s', '%s', '2026-12-03T09:00Z', '2026-12-03T10:00Z', 0, 0, 'review', 'booked'".formatted(this.patient,
						staff));
		var consent = insert("photograph_consent (patient_id, purpose, given_on)",
				"'%s', 'care', '2026-11-01'".formatted(this.patient));
		var photograph = insert(
				"photograph (patient_id, taken_on, view, light_set, mirrored, width, height, bytes, sha256, source_sha256)",
				"'%s', '2026-11-02', 'front', 'flat', false, 4, 4, 9, sha256('a'), sha256('b')"
					.formatted(this.patient));
		var plan = insert("screening_plan (patient_id, planned_for, radiofrequency)",
				"'%s', '2026-11-20', true".formatted(this.patient));
		var answer = insert("screening_answer (patient_id, item, asked_on, answer, asked_by, list_version)",
				"'%s', 'bleeding', '2026-11-20', 'yes', '%s', 1".formatted(this.patient, staff));
		var decision = insert(
				"screening_decision (patient_id, item, decided_on, about, verdict, decided_by, list_version)",
				"'%s', 'bleeding', '2026-11-20', 'yes', 'acknowledged', '%s', 1".formatted(this.patient, staff));
		var treatmentConsent = insert("treatment_consent (patient_id, given_on, document_reference)",
				"'%s', '2026-11-20', 'C-1'".formatted(this.patient));
		var weight = insert("body_weight (patient_id, weighed_on, weight_kg)",
				"'%s', '2026-11-20', 61.5".formatted(this.patient));
		var numbing = insert("numbing (patient_id, started_at, stopped_at)",
				"'%s', '2026-11-20T08:00Z', '2026-11-20T08:30Z'".formatted(this.patient));
		var minutes = insert("numbing_plan (patient_id, minutes)", "'%s', 35".formatted(this.patient));
		var mail = insert("mail_choice (id, patient_id, opted_out, chosen_by)",
				"gen_random_uuid(), '%s', true, 'staff'".formatted(this.patient));
		var patientPage = "/patients/" + this.patient;
		var day = patientPage + "/assessments/2026-11-10";
		var sessionPage = "/sessions/" + session;
		return Map.ofEntries(Map.entry("patient", new Entry(this.patient, patientPage)),
				Map.entry("appointment", new Entry(appointment, patientPage)),
				Map.entry("photograph", new Entry(photograph, "/photographs/" + photograph)),
				Map.entry("finding_action", new Entry(action, "/findings/" + finding)),
				Map.entry("finding_report", new Entry(report, "/findings/" + finding)),
				Map.entry("scar_state", new Entry(scarState, patientPage + "/scar-states")),
				Map.entry("screening_plan", new Entry(plan, patientPage + "/before")),
				Map.entry("screening_answer", new Entry(answer, patientPage + "/before")),
				Map.entry("screening_decision", new Entry(decision, patientPage + "/before")),
				Map.entry("treatment_consent", new Entry(treatmentConsent, patientPage + "/before")),
				Map.entry("body_weight", new Entry(weight, patientPage + "/before")),
				Map.entry("numbing", new Entry(numbing, patientPage + "/before")),
				Map.entry("numbing_plan", new Entry(minutes, patientPage + "/before")),
				Map.entry("photograph_consent", new Entry(consent, patientPage + "/photographs/consent")),
				Map.entry("mail_choice", new Entry(mail, patientPage + "/contact-link")),
				Map.entry("scar", new Entry(this.scar, "/series/" + series)),
				Map.entry("series", new Entry(series, "/series/" + series)),
				Map.entry("session", new Entry(session, sessionPage)),
				Map.entry("preparation", new Entry(preparation, sessionPage)),
				Map.entry("injection", new Entry(injection, sessionPage)),
				Map.entry("finding", new Entry(finding, "/findings/" + finding)),
				Map.entry("finding_observation", new Entry(observation, "/findings/" + finding)),
				Map.entry("contact", new Entry(contact, "/contacts/" + contact + "/edit")),
				Map.entry("scar_assessment", new Entry(rating, day)), Map.entry("scar_count", new Entry(count, day)),
				Map.entry("pore_assessment", new Entry(pores, day)),
				Map.entry("global_assessment", new Entry(scale, day)));
	}

	private UUID insert(String into, String values) {
		return id("insert into %s values (%s) returning id".formatted(into, values));
	}

	private UUID id(String sql) {
		return this.database.sql(sql).query(UUID.class).single();
	}

}
