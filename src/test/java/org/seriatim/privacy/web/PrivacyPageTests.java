package org.seriatim.privacy.web;

import java.io.IOException;
import java.io.UnsupportedEncodingException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.Role;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportResult;
import org.seriatim.support.PageTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestStaff;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.dao.DataAccessException;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.transaction.support.TransactionTemplate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

/**
 * A clinic lead gives a patient everything that is held, puts a record on hold, and
 * erases one: nothing of the person stays, the audit log stays whole, and the clinic's
 * figures say what they said.
 */
@PageTest
@SignedInAs({ Role.CLINIC_LEAD, Role.PRACTITIONER })
class PrivacyPageTests {

	private static final Path CLINIC = Path.of("src/test/resources/sample-clinic");

	private final MockMvcTester browser;

	private final JdbcClient database;

	private final BundleImport bundles;

	private final TransactionTemplate transaction;

	private final TestStaff staff;

	private UUID patient;

	private String number;

	@Autowired
	PrivacyPageTests(MockMvcTester browser, JdbcClient database, BundleImport bundles, TransactionTemplate transaction,
			TestStaff staff) {
		this.browser = browser;
		this.database = database;
		this.bundles = bundles;
		this.transaction = transaction;
		this.staff = staff;
	}

	@BeforeEach
	void theSampleClinic() {
		assertThat(this.bundles.take(CLINIC, false, ImportProgress.UNWATCHED)).isInstanceOf(ImportResult.Taken.class);
		this.patient = this.database.sql("""
				select patient_id from finding join finding_observation on finding_id = finding.id
				where kind = 'lump' group by patient_id
				order by count(*) desc, (select record_number from patient where id = patient_id) limit 1""")
			.query(UUID.class)
			.single();
		this.number = this.database.sql("select record_number from patient where id = :id")
			.param("id", this.patient)
			.query(String.class)
			.single();
		this.database.sql("""
				update patient set family_name = 'Xenopulos', phone = '+00 555 7788', version = version + 1,
					correction_reason = 'Xenopulos was misspelt' where id = :id""").param("id", this.patient).update();
		this.database.sql("update contact set note = 'Xenopulos called', version = version + 1 where patient_id = :id")
			.param("id", this.patient)
			.update();
	}

	/* What other parts keep about a patient beside the record. */
	private void openedInAnEmergencyAndKeptLonger() {
		this.staff.member(Role.FRONT_DESK);
		this.database
			.sql("""
					insert into emergency_access (account_id, patient_id, reason, begun_at, ends_at)
					select id, :patient, 'Xenopulos fainted', '2026-11-19T09:00Z', '2026-11-19T10:00Z' from account limit 1""")
			.param("patient", this.patient)
			.update();
		this.database.sql("""
				insert into retention_kept (kind, patient_id, kept_until, reason, decided_at, decided_by)
				select 'record', :patient, '2030-01-01', 'Xenopulos asked', now(), id from staff limit 1""")
			.param("patient", this.patient)
			.update();
	}

	@Test
	void erasesARecordAndLeavesAuditAndFigures() {
		openedInAnEmergencyAndKeptLonger();
		assertThat(get("/patients/" + this.patient)).hasStatusOk();
		var figures = figures();
		var audited = audit();
		assertThat(get("/patients/" + this.patient + "/erase")).hasStatusOk()
			.bodyText()
			.contains("What goes", "What stays", "Type " + this.number + " once more");
		assertThat(erase(this.number)).hasRedirectedUrl("/setup/erasures");

		assertThat(tablesWith("Xenopulos")).isEmpty();
		assertThat(tablesWith("555 7788")).isEmpty();
		assertThat(tablesWith("\"" + this.number + "\"")).isEmpty();
		assertThat(tablesWith(this.patient.toString())).containsExactlyInAnyOrder("audit_entry", "emergency_access",
				"erasure");
		assertThat(get("/patients/" + this.patient)).hasStatus(HttpStatus.NOT_FOUND);
		assertThat(audit()).as("what was in the audit log").containsAll(audited);
		assertThat(get("/setup/erasures")).hasStatusOk()
			.bodyText()
			.contains("The patient asked for it", this.patient.toString())
			.doesNotContain("Xenopulos");
		assertThat(figures()).isEqualTo(figures);
	}

	@Test
	void neverGivesAnErasedNumberAgain() {
		erase(this.number);
		assertThat(this.browser.post()
			.uri("/patients/new")
			.with(SecurityMockMvcRequestPostProcessors.csrf())
			.formField("recordNumber", this.number)
			.formField("familyName", "Tamm")
			.exchange()).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT).bodyText().contains("given");
		assertThat(this.bundles.take(CLINIC, true, ImportProgress.UNWATCHED))
			.as("an old bundle does not bring the record back")
			.isInstanceOf(ImportResult.Refused.class);
	}

	@Test
	void leavesABundleThatCanBeTaken(@TempDir Path folder) throws IOException {
		erase(this.number);
		assertThat(taken(zip("/setup/export"), folder)).satisfies((result) -> {
			assertThat(result.added()).isZero();
			assertThat(result.changed()).isZero();
			assertThat(result.unchanged()).isPositive();
		});
	}

	@Test
	void opensTheGuardForThisRecordAndThisMomentOnly() {
		erase(this.number);
		assertThatExceptionOfType(DataAccessException.class)
			.isThrownBy(() -> this.database.sql("delete from contact").update())
			.withMessageContaining("corrected, not deleted");
		var another = this.database.sql("select patient_id from contact limit 1").query(UUID.class).single();
		assertThatExceptionOfType(DataAccessException.class)
			.isThrownBy(() -> this.transaction.executeWithoutResult((status) -> {
				this.database.sql("select erase_patient(:id, now(), null, 'court_order', null)")
					.param("id",
							this.database.sql("select id from patient where id <> :id limit 1")
								.param("id", another)
								.query(UUID.class)
								.single())
					.query((row, index) -> "")
					.list();
				this.database.sql("delete from contact where patient_id = :id").param("id", another).update();
			}))
			.withMessageContaining("corrected, not deleted");
	}

	@Test
	void erasesNoRecordOnHold() {
		assertThat(send("/patients/" + this.patient + "/hold", Map.of("lifts", "false")))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Say why.");
		assertThat(send("/patients/" + this.patient + "/hold", Map.of("lifts", "false", "reason", "a claim is open")))
			.hasRedirectedUrl("/patients/" + this.patient);
		assertThat(get("/patients/" + this.patient)).bodyText().contains("On legal hold", "a claim is open");
		assertThat(this.browser.get().uri("/patients/" + this.patient).with(this.staff.as(Role.FRONT_DESK)).exchange())
			.hasStatusOk()
			.bodyText()
			.doesNotContain("On legal hold", "a claim is open");
		assertThat(erase(this.number)).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT).bodyText().contains("on hold");
		assertThatExceptionOfType(DataAccessException.class)
			.isThrownBy(() -> this.database.sql("select erase_patient(:id, now(), null, 'court_order', null)")
				.param("id", this.patient)
				.query((row, index) -> "")
				.list());
		assertThat(send("/patients/" + this.patient + "/hold", Map.of("lifts", "true", "reason", "settled")))
			.hasStatus3xxRedirection();
		assertThat(erase(this.number)).hasRedirectedUrl("/setup/erasures");
	}

	@Test
	void asksForTheNumberAndAReason() {
		assertThat(send("/patients/" + this.patient + "/erase", Map.of("typedNumber", "another")))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("This is not the number of this record.", "Choose a reason.");
		assertThat(get("/patients/" + this.patient)).hasStatusOk();
	}

	@Test
	void givesOutEverythingThatIsHeld(@TempDir Path folder) throws IOException {
		assertThat(get("/patients/" + this.patient + "/report")).hasStatusOk()
			.bodyText()
			.contains("Xenopulos", "+00 555 7788", "Xenopulos called", "Sessions", "Injections", "Findings",
					"Earlier versions that corrections replaced", "Who looked", "Lump", "given out")
			.containsPattern("<td>\\d{1,2} [A-Z][a-z]{2} 20\\d\\d</td>")
			.doesNotContainPattern("<t[dh][^>]*>(?:\\d{4}-\\d\\d-\\d\\d|true|false|[a-z]+_[a-z_]+|\\{)");
		var part = taken(zip("/patients/" + this.patient + "/report.zip"), folder);
		assertThat(part.added()).isZero();
		assertThat(part.changed()).isZero();
		assertThat(part.files()).filteredOn((file) -> file.file().equals("patients.csv"))
			.singleElement()
			.satisfies((file) -> assertThat(file.unchanged()).isOne());
		assertThat(part.files()).filteredOn((file) -> file.file().equals("finding_observations.csv"))
			.singleElement()
			.satisfies((file) -> assertThat(file.unchanged()).isEqualTo(this.database.sql("""
					select count(*) from finding_observation join finding on finding.id = finding_id
					where patient_id = :id""").param("id", this.patient).query(Long.class).single()));
		assertThat(this.database
			.sql("select detail from audit_entry where action = 'exported' and patient_id = :id order by id")
			.param("id", this.patient)
			.query(String.class)
			.list()).containsExactly("report", null);
	}

	@Test
	void removesOnlyWhatSomebodyDecidedOn() {
		assertThat(get("/setup/retention")).hasStatusOk().bodyText().contains("No kind has a rule yet");
		this.database
			.sql("""
					insert into patient (record_number, family_name, recorded_at)
					values ('OLD1', 'Tamm', '2001-01-02'), ('OLD2', 'Venn', '2002-01-02'), ('OLD3', 'Lindt', '2003-01-02')""")
			.update();
		assertThat(send("/setup/retention/rules", Map.of("recordMonths", "0")))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(send("/setup/retention/rules", Map.of("recordMonths", "240"))).hasRedirectedUrl("/setup/retention");
		assertThat(send("/patients/" + id("OLD3") + "/hold", Map.of("lifts", "false", "reason", "a claim is open")))
			.hasStatus3xxRedirection();
		assertThat(get("/setup/retention")).bodyText()
			.contains("OLD1", "2 Jan 2001", "OLD2")
			.doesNotContain("OLD3", this.number);
		var decisions = Map.of("due[0].kind", "record", "due[0].patient", id("OLD1"), "due[0].what", "remove",
				"due[1].kind", "record", "due[1].patient", id("OLD2"), "due[1].what", "keep");
		assertThat(send("/setup/retention", decisions)).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Say why it is kept.");
		var complete = new HashMap<>(decisions);
		complete.put("due[1].reason", "asked to come back");
		assertThat(send("/setup/retention", complete)).hasStatusOk()
			.bodyText()
			.contains("Remove this for good?", "OLD1", "the whole record", "2 Jan 2001", "One more entry is kept",
					"asked to come back")
			.doesNotContain(">OLD2<");
		assertThat(id("OLD1")).as("nothing is removed that nobody has seen by name").isNotEmpty();
		complete.put("confirmed", "true");
		assertThat(send("/setup/retention", complete)).hasRedirectedUrl("/setup/retention");
		assertThat(get("/setup/retention")).bodyText().contains("Nothing is due").doesNotContain("OLD1", "OLD2");
		assertThat(this.database.sql("select record_number from patient where record_number like 'OLD%' order by 1")
			.query(String.class)
			.list()).containsExactly("OLD2", "OLD3");
		assertThat(send("/setup/retention",
				Map.of("due[0].kind", "record", "due[0].patient", id("OLD3"), "due[0].what", "remove")))
			.hasStatus3xxRedirection();
		assertThat(id("OLD3")).as("what is on hold or not due stays, whatever is sent").isNotEmpty();
	}

	@Test
	void removesReplacedAdviceAndWhatWasTypedInSettledDrafts() {
		this.database.sql("update advice set replaced_at = '2001-01-02' where patient_id = :id")
			.param("id", this.patient)
			.update();
		this.database
			.sql("""
					insert into session_draft (patient_id, series_id, content, written_by, written_at, status, settled_by, settled_at)
					select patient_id, id, '{"reason":"Xenopulos"}', (select id from staff limit 1), '2001-01-02', 'discarded',
						(select id from staff limit 1), '2001-01-02' from series where patient_id = :id limit 1""")
			.param("id", this.patient)
			.update();
		send("/setup/retention/rules", Map.of("draftMonths", "120", "adviceMonths", "120"));
		assertThat(get("/setup/retention")).bodyText().contains("1 settled draft");
		send("/setup/retention",
				Map.of("due[0].kind", "draft", "due[0].patient", this.patient.toString(), "due[0].what", "remove",
						"due[1].kind", "advice", "due[1].patient", this.patient.toString(), "due[1].what", "remove",
						"confirmed", "true"));
		assertThat(this.database.sql("select content::text from session_draft").query(String.class).list())
			.containsExactly("{}");
		assertThat(this.database.sql("select count(*) from advice where replaced_at < '2002-01-01'")
			.query(Long.class)
			.single()).isZero();
		assertThat(get("/setup/retention")).bodyText().contains("Nothing is due");
	}

	@Test
	void isForTheLeadOnly() {
		for (var address : List.of("/report", "/hold", "/erase")) {
			assertThat(this.browser.get()
				.uri("/patients/" + this.patient + address)
				.with(this.staff.as(Role.PRACTITIONER))
				.exchange()).hasStatus(HttpStatus.FORBIDDEN);
			assertThat(this.browser.get()
				.uri("/patients/" + this.patient + address)
				.with(SecurityMockMvcRequestPostProcessors.anonymous())
				.exchange()).hasStatus3xxRedirection();
		}
	}

	private List<String> figures() {
		return List.of("none", "region", "layer", "combination", "practitioner", "product")
			.stream()
			.map((group) -> text(get("/outcomes/lumps.csv?group=" + group)))
			.toList();
	}

	private String id(String recordNumber) {
		return this.database.sql("select id::text from patient where record_number = :number")
			.param("number", recordNumber)
			.query(String.class)
			.single();
	}

	private List<String> audit() {
		return this.database.sql("select to_jsonb(audit_entry)::text from audit_entry").query(String.class).list();
	}

	private List<String> tablesWith(String text) {
		return this.database.sql("select tablename from pg_tables where schemaname = current_schema()")
			.query(String.class)
			.list()
			.stream()
			.filter((table) -> this.database
				.sql("select exists (select from %s entry where to_jsonb(entry)::text like :text)".formatted(table))
				.param("text", "%" + text + "%")
				.query(Boolean.class)
				.single())
			.toList();
	}

	private MvcTestResult erase(String typed) {
		return send("/patients/" + this.patient + "/erase", Map.of("typedNumber", typed, "why", "patient_request"));
	}

	private byte[] zip(String address) {
		var result = send(address, Map.of());
		assertThat(result).hasStatusOk();
		return result.getResponse().getContentAsByteArray();
	}

	private ImportResult.Taken taken(byte[] zip, Path folder) throws IOException {
		var file = Files.write(folder.resolve("part.zip"), zip);
		var result = this.bundles.take(file, false, ImportProgress.UNWATCHED);
		assertThat(result).isInstanceOf(ImportResult.Taken.class);
		return (ImportResult.Taken) result;
	}

	private MvcTestResult get(String address) {
		return this.browser.get().uri(address).exchange();
	}

	private MvcTestResult send(String address, Map<String, String> form) {
		var request = this.browser.post().uri(address).with(SecurityMockMvcRequestPostProcessors.csrf());
		form.forEach(request::formField);
		return request.exchange();
	}

	private static String text(MvcTestResult result) {
		try {
			return result.getResponse().getContentAsString();
		}
		catch (UnsupportedEncodingException ex) {
			throw new IllegalStateException(ex);
		}
	}

}
