package org.seriatim.contactlink.web;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.access.Role;
import org.seriatim.contactlink.TestLinks;
import org.seriatim.patient.PatientId;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.SignedInAs;
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

/** The desk makes links, and a clinic lead says what they say. */
@PageTest
@SignedInAs(Role.FRONT_DESK)
class ContactLinkPageTests {

	@Autowired
	MockMvcTester browser;

	@Autowired
	JdbcClient database;

	@Autowired
	TestStaff staff;

	private PatientId patient;

	private SessionId session;

	@BeforeEach
	void treatSomebody() {
		var treatment = new TestTreatment(this.database);
		this.patient = treatment.patient("K1");
		this.session = treatment.session(treatment.series(this.patient), 1, "2026-11-02");
		this.database.sql("update patient set email = 'ada@example.org', version = version + 1").update();
	}

	@Test
	void makesNoneBeforeTheClinicHasSaidWhereToTurn() {
		assertThat(get(link())).hasStatusOk()
			.bodyText()
			.contains("No link can be made yet", "Where to turn in an emergency", "When answers are read");
		assertThat(post(link())).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		for (var column : new String[] { "emergency_text", "emergency_phone", "reading_times" }) {
			this.database.sql("""
					insert into contact_link_settings (number, published_at, emergency_text, emergency_phone,
						reading_times, base_address, days, subject, body)
					select max(number) + 1, now(), %s, %s, %s, 'https://clinic.example', 42, 's', '{link}'
					from contact_link_settings""".formatted(column.equals("emergency_text") ? "null" : "'a'",
					column.equals("emergency_phone") ? "null" : "'1'", column.equals("reading_times") ? "null" : "'a'"))
				.update();
			assertThat(post(link())).as(column).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		}
		assertThat(count("contact_link")).isZero();
	}

	@Test
	void makesOneThatCanBeCopiedAndGoesIntoTheOutbox() {
		TestLinks.setUp(this.database);
		assertThat(post(link())).hasRedirectedUrl(link());
		assertThat(get(link())).bodyText().containsPattern("https://clinic.example/answer/[A-Za-z0-9_-]{43}\"");
		assertThat(get("/outbox")).bodyText().contains("ada@example.org", "Waits", "no mail server");
		var message = this.database.sql("select id from outbox_message").query(UUID.class).single();
		assertThat(get("/outbox/" + message)).bodyText()
			.containsPattern("https://clinic.example/answer/[A-Za-z0-9_-]{43}")
			.contains("A short question", "Clinic by the Lake");
		post(link());
		assertThat(this.database.sql("select state from outbox_message order by queued_at, state desc")
			.query(String.class)
			.list()).containsExactlyInAnyOrder("withdrawn", "waiting");
		assertThat(post(link() + "/revoke")).hasRedirectedUrl(link());
		assertThat(get(link())).bodyText().doesNotContain("/answer/");
		assertThat(count("audit_entry where kind = 'contact_link' and staff_id is not null")).isEqualTo(4);
	}

	@Test
	void sendsNothingToWhoWantsNoMailOrHasNoAddress() {
		TestLinks.setUp(this.database);
		post(link() + "/mail", "wanted", "false");
		post(link());
		assertThat(get(link())).bodyText().contains("wants no e-mail");
		assertThat(count("outbox_message")).isZero();
		post(link() + "/mail", "wanted", "true");
		this.database.sql("update patient set email = null, version = version + 1").update();
		post(link());
		assertThat(count("outbox_message")).isZero();
		assertThat(count("previous_version where table_name = 'mail_choice'")).isOne();
	}

	@Test
	void isOfferedWhereAContactIs() {
		post("/sessions/" + this.session + "/contacts/new", "outcome", "no_answer", "contactedOn", "2026-11-17",
				"channel", "phone");
		for (var page : new String[] { "/patients/" + this.patient, "/follow-up",
				"/sessions/" + this.session + "/contacts/new" }) {
			assertThat(get(page)).as(page).hasStatusOk().bodyText().contains(link());
		}
	}

	@Test
	void isAboutASession() {
		TestLinks.setUp(this.database);
		var other = new TestTreatment(this.database).patient("K2");
		assertThat(get("/patients/" + other + "/contact-link")).bodyText().contains("no session yet");
		assertThat(post("/patients/" + other + "/contact-link")).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(get("/patients/" + other)).bodyText().doesNotContain("/contact-link");
	}

	@Test
	@SignedInAs(Role.CLINIC_LEAD)
	void takesWhatTheClinicSaysAsVersions() {
		assertThat(post("/setup/contact-links", settings(Map.of()))).hasRedirectedUrl("/setup/contact-links");
		assertThat(get("/setup/contact-links")).bodyText()
			.contains("Go to the hospital.", "Version")
			.doesNotContain("No link can be made yet");
		assertThat(post("/setup/contact-links", settings(Map.of("emergencyText", "Another"))))
			.as("somebody saved one in the meantime")
			.hasStatus(HttpStatus.CONFLICT);
		assertThat(count("contact_link_settings")).isEqualTo(2);
		assertThat(count("audit_entry where kind = 'contact_link_settings'")).isOne();
	}

	@ParameterizedTest
	@SignedInAs(Role.CLINIC_LEAD)
	@CsvSource(delimiter = '|', value = { "mailBody|no place for it|Put {link} in once, where the link is to stand.",
			"mailBody|{link} and {link}|Put {link} in once, where the link is to stand.",
			"mailBody|{link} {name}|There is nothing to put in for {name}.",
			"mailSubject|{link}|There is nothing to put in for {link}.",
			"baseAddress|http://clinic.example|Enter an address that begins with https://, without anything after a question mark.",
			"baseAddress|javascript:alert(1)|Enter an address that begins with https://, without anything after a question mark.",
			"mailSender|not an address|Enter one e-mail address, for example clinic@example.org",
			"emergencyPhone|call us|Enter a telephone number: figures, spaces, and a plus at the front if it needs one.",
			"linkDays|0|Enter a whole number from 1 to 365 days." })
	void saysWhatIsWrongWithThem(String field, String value, String message) {
		var answer = post("/setup/contact-links", settings(Map.of(field, value)));
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(answer)).containsEntry(field, message);
		assertThat(count("contact_link_settings")).isOne();
	}

	@Test
	@SignedInAs(Role.ADMINISTRATOR)
	void showsAnAdministratorTheSettingsAndNoPatient() {
		assertThat(get("/setup/contact-links")).hasStatusOk();
		assertThat(get(link())).hasStatus(HttpStatus.FORBIDDEN);
		assertThat(get("/outbox")).hasStatus(HttpStatus.FORBIDDEN);
	}

	private static String[] settings(Map<String, String> changed) {
		var fields = new LinkedHashMap<String, String>(Map.of("basedOn", "1", "emergencyText", "Go to the hospital.",
				"emergencyPhone", "+00 555 0100", "readingTimes", "on working days", "baseAddress",
				"https://clinic.example/", "linkDays", "42", "mailSubject", "A short question", "mailBody",
				"Hello {link} {clinic}", "mailSender", "desk@clinic.example"));
		fields.putAll(changed);
		return fields.entrySet()
			.stream()
			.flatMap((entry) -> java.util.stream.Stream.of(entry.getKey(), entry.getValue()))
			.toArray(String[]::new);
	}

	private String link() {
		return "/patients/" + this.patient + "/contact-link";
	}

	private int count(String rows) {
		return this.database.sql("select count(*) from " + rows).query(Integer.class).single();
	}

	private MvcTestResult get(String address) {
		return this.browser.get().uri(address).exchange();
	}

	private MvcTestResult post(String address, String... fields) {
		var request = this.browser.post().uri(address).with(SecurityMockMvcRequestPostProcessors.csrf());
		for (int i = 0; i < fields.length; i += 2) {
			request.param(fields[i], fields[i + 1]);
		}
		return request.exchange();
	}

}
