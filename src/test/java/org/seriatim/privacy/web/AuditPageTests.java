package org.seriatim.privacy.web;

import java.io.UnsupportedEncodingException;
import java.time.Duration;
import java.util.UUID;

import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.Role;
import org.seriatim.support.PageTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestClock;
import org.seriatim.support.TestStaff;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

/** Who did what is found, taken along, and told to the patient. */
@PageTest
@SignedInAs(Role.CLINIC_LEAD)
class AuditPageTests {

	@Autowired
	private MockMvcTester browser;

	@Autowired
	private JdbcClient database;

	@Autowired
	private AuditLog audit;

	@Autowired
	private TestStaff staff;

	@Autowired
	private TestClock clock;

	private UUID patient = new UUID(0, 0);

	@BeforeEach
	void aPatient() {
		this.patient = this.database
			.sql("""
					insert into patient (record_number, family_name, recorded_at) values ('=P-1', 'Moss', now()) returning id""")
			.query(UUID.class)
			.single();
	}

	private void opened(int times) {
		for (int i = 0; i < times; i++) {
			this.audit.record(Action.OPENED, "patient", this.patient, this.patient);
			this.clock.advance(Duration.ofMinutes(1));
		}
	}

	private MvcTestResult get(String address) {
		return this.browser.get().uri(address).exchange();
	}

	private static Document page(MvcTestResult result) {
		try {
			return Jsoup.parse(result.getResponse().getContentAsString());
		}
		catch (UnsupportedEncodingException ex) {
			throw new IllegalStateException(ex);
		}
	}

	private MvcTestResult search(String... fields) {
		var request = this.browser.post().uri("/setup/audit").with(csrf());
		for (int at = 0; at < fields.length; at += 2) {
			request.param(fields[at], fields[at + 1]);
		}
		return request.exchange();
	}

	@Test
	void isFoundByRecordNumberWithoutTheNumberInTheAddress() {
		opened(1);
		this.audit.record(Action.CREATED, "series", UUID.randomUUID(), UUID.randomUUID());
		var found = search("whose", "=P-1");
		assertThat(found).hasRedirectedUrl("/setup/audit?patient=" + this.patient);
		var shown = page(get(found.getResponse().getRedirectedUrl()));
		assertThat(shown.select("tbody tr")).hasSize(1);
		assertThat(shown.select("tbody tr").text()).contains("clinic_lead", "opened", "=P-1", "127.0.0.1");
		assertThat(shown.selectFirst("input[name=whose]").val()).isEqualTo("=P-1");
	}

	@Test
	void isFoundByWhatWasDoneAndWhen() {
		opened(1);
		this.clock.advance(Duration.ofDays(3));
		this.audit.record(Action.CORRECTED, "series", UUID.randomUUID(), this.patient);
		assertThat(page(get("/setup/audit?done=corrected")).select("tbody tr")).hasSize(1);
		assertThat(page(get("/setup/audit?entryKind=series")).select("tbody tr")).hasSize(1);
		assertThat(page(get("/setup/audit?from=2026-11-23&until=2026-11-23")).select("tbody tr")).hasSize(1);
		assertThat(page(get("/setup/audit?until=2026-11-22")).select("tbody tr").text()).contains("opened")
			.doesNotContain("corrected");
		assertThat(get("/setup/audit?from=2027-01-01")).bodyText().contains("Nothing found");
	}

	@Test
	void saysAtTheFieldWhatCannotBeFound() {
		var refused = search("whose", "nobody", "from", "2026-11-20", "until", "2026-11-19");
		assertThat(refused).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(page(refused).select("#whose-error").text()).contains("No patient has this record number");
		assertThat(page(refused).select("#until-error").text()).contains("before the first");
		assertThat(page(refused).selectFirst("input[name=whose]").val()).isEqualTo("nobody");
		assertThat(get("/setup/audit?beforeAt=-9223372036854775808&beforeId=0")).hasStatusOk();
		assertThat(get("/setup/audit?beforeAt=9223372036854775807&beforeId=0")).hasStatusOk();
		assertThat(get("/setup/audit?from=9999-01-01")).hasStatusOk();
		assertThat(get("/setup/audit?from=%2B999999999-01-01")).hasStatus(HttpStatus.BAD_REQUEST);
	}

	@Test
	void isReadPageByPageWithNothingTwiceOrLeftOut() {
		opened(120);
		var first = page(get("/setup/audit"));
		var second = page(get(first.selectFirst("a[rel=next]").attr("href")));
		var third = page(get(second.selectFirst("a[rel=next]").attr("href")));
		assertThat(first.select("tbody tr").size() + second.select("tbody tr").size() + third.select("tbody tr").size())
			.isEqualTo(120);
		assertThat(first.select("tbody tr").first().text()).contains("10:59");
		assertThat(second.select("tbody tr").first().text()).contains("10:09");
		assertThat(third.select("tbody tr").last().text()).contains("09:00");
		assertThat(third.select("a[rel=next]")).isEmpty();
	}

	@Test
	void isTakenAlongSafelyForASpreadsheetAndSaysSo() throws UnsupportedEncodingException {
		opened(2);
		var file = this.browser.post()
			.uri("/setup/audit.csv")
			.with(csrf())
			.param("patient", this.patient.toString())
			.exchange();
		assertThat(file).hasStatusOk().hasContentTypeCompatibleWith("text/csv");
		var lines = file.getResponse().getContentAsString().split("\r\n");
		assertThat(lines).hasSize(4);
		assertThat(lines[0]).isEqualTo(
				"\uFEFFid,at,staff,action,kind,entry,record_number,patient,detail,origin,origin_id,command,address,emergency_access");
		assertThat(lines[1]).contains(",clinic_lead,opened,patient,", ",'=P-1,");
		assertThat(lines[3]).contains(",exported,audit_log,").as("the download itself");
	}

	@Test
	void aPatientCanBeToldWhoLookedWhenAndWhy() {
		opened(3);
		var desk = this.staff.member(Role.FRONT_DESK);
		this.database
			.sql("""
					with used as (
						insert into emergency_access (account_id, patient_id, reason, begun_at, ends_at)
						select id, :patient, 'short of breath', now(), now() + interval '1 hour' from account
						where staff_id = (select id from staff where name = :desk) returning id)
					insert into audit_entry (at, staff_id, action, kind, entry_id, patient_id, emergency_id)
					select '2026-11-20T15:00Z', (select id from staff where name = :desk), 'opened', 'patient', :patient, :patient,
						id from used""")
			.param("patient", this.patient)
			.param("desk", desk.getUsername())
			.update();
		var rows = page(get("/patients/" + this.patient + "/openings")).select("tbody tr");
		assertThat(rows.get(0).text()).contains("15:00", "front_desk front desk", "emergency access",
				"short of breath");
		assertThat(rows.get(1).text()).contains("09:00–09:03", "clinic_lead", "opened: patient", "4", "by their role");
		assertThat(page(get("/patients/" + this.patient)).select("a[href$=/openings]")).isNotEmpty();
		assertThat(page(get("/patients/" + this.patient + "/report")).select("a[href$=/openings]")).isNotEmpty();
	}

	@Test
	void saysHowTheLogStands() {
		assertThat(get("/setup/audit")).bodyText().contains("not yet; the service does it each night");
		this.audit.record(Action.ADMINISTERED, "audit_log", null, null, "verified: altered at position 3");
		assertThat(get("/setup/audit")).bodyText()
			.contains("The audit log is not as it was written", "altered at position 3", "run verify-log");
		this.audit.record(Action.ADMINISTERED, "audit_log", null, null, "verified: intact, sealed up to nothing");
		assertThat(get("/setup/audit")).bodyText().contains("as it was written").doesNotContain("What was found");
	}

	@Test
	void isOpenToLeadAndAdministratorOnly() {
		for (Role role : Role.values()) {
			boolean may = role == Role.CLINIC_LEAD || role == Role.ADMINISTRATOR;
			assertThat(this.browser.get().uri("/setup/audit").with(this.staff.as(role))).as(role.word())
				.hasStatus(may ? HttpStatus.OK : HttpStatus.FORBIDDEN);
			assertThat(this.browser.get().uri("/patients/" + this.patient + "/openings").with(this.staff.as(role)))
				.as(role.word())
				.hasStatus((role == Role.CLINIC_LEAD) ? HttpStatus.OK : HttpStatus.FORBIDDEN);
		}
	}

}
