package org.seriatim.record.web;

import java.io.UnsupportedEncodingException;
import java.util.UUID;
import java.util.regex.Pattern;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.access.Role;
import org.seriatim.contactlink.TestLinks;
import org.seriatim.contactlink.domain.ContactLinks;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * What a patient answers by a link is seen with the very next page that somebody of the
 * clinic opens. There is nothing in between that would have to catch up.
 */
@PageTest
class AnswerSeenTests {

	private static final String CAUTION = "Possible emergency. Follow this clinic";

	@Autowired
	MockMvcTester browser;

	@Autowired
	JdbcClient database;

	@Autowired
	TestStaff staff;

	@Autowired
	ContactLinks links;

	@Autowired
	ApplicationEventPublisher events;

	private PatientId patient;

	private SeriesId series;

	private SessionId session;

	private String link;

	@BeforeEach
	void askAPatient() {
		TestLinks.setUp(this.database);
		var treatment = new TestTreatment(this.database);
		this.patient = treatment.patient("K1");
		treatment.birthDate(this.patient, "1990-03-04");
		this.series = treatment.series(this.patient);
		this.session = treatment.session(this.series, 1, "2026-11-02");
		this.database.sql("""
				insert into finding (code, patient_id, session_id, kind, region, first_noted_on, grade, serious)
				values ('F1', ?, ?, 'lump', 'chin', '2026-11-03', 1, false)""")
			.param(this.patient.value())
			.param(this.session.value())
			.update();
		this.events.publishEvent(new PatientRecordChanged(this.patient));
		this.link = this.links.addressOf(this.links.make(this.patient).id()).substring(TestLinks.BASE.length());
	}

	@Test
	void isOnEachPageWithTheNextRequest() {
		assertThat(list(Role.FRONT_DESK)).contains("/sessions/" + this.session + "/contacts/new")
			.doesNotContain("Answered by link");
		answer("lumpNow", "absent", "painNrs", "2", "said", "a little dry");
		assertThat(list(Role.FRONT_DESK)).as("nobody need ask")
			.doesNotContain("/sessions/" + this.session + "/contacts/new")
			.contains("Answered by link", "/patients/" + this.patient + "/appointments/new?purpose=treatment");
		answer("lumpNow", "present", "where", "chin", "painNrs", "3", "said", "now it is back");
		assertThat(list(Role.FRONT_DESK)).as("ask again, on another day").doesNotContain("purpose=treatment");
		assertThat(get("/patients/" + this.patient + "/before", Role.PRACTITIONER)).contains("now it is back");
		var finding = this.database.sql("select id from finding").query(UUID.class).single();
		assertThat(get("/findings/" + finding, Role.PRACTITIONER)).contains("20 Nov 2026", ">patient<", ">link<");
	}

	@Test
	void alertsWithTheNextRequestWhatMayBeAnEmergency() {
		var pages = new String[] { "/patients/" + this.patient, "/patients/" + this.patient + "/before",
				"/series/" + this.series };
		for (var page : pages) {
			assertThat(get(page, Role.PRACTITIONER)).as(page).doesNotContain(CAUTION);
		}
		assertThat(get("/emergencies", Role.PRACTITIONER)).doesNotContain("K1");
		answer("signs", "vision");
		assertThat(get("/emergencies", Role.PRACTITIONER)).contains("K1", "Visual symptom");
		for (var page : pages) {
			assertThat(get(page, Role.PRACTITIONER)).as(page).contains(CAUTION);
		}
		assertThat(list(Role.FRONT_DESK)).contains("hold").doesNotContain("purpose=treatment", "vision");
	}

	private void answer(String... fields) {
		var request = this.browser.post().uri(this.link).param("form", UUID.randomUUID().toString());
		for (int i = 0; i < fields.length; i += 2) {
			request.param(fields[i], fields[i + 1]);
		}
		assertThat(request.exchange()).hasStatusOk();
	}

	private String list(Role role) {
		// what there is to do about the patient, in the list and below it
		return Pattern.compile("\\s+").matcher(get("/today", role)).replaceAll(" ");
	}

	private String get(String address, Role role) {
		var answer = this.browser.get().uri(address).with(this.staff.as(role)).exchange();
		assertThat(answer).hasStatusOk();
		try {
			return answer.getResponse().getContentAsString();
		}
		catch (UnsupportedEncodingException ex) {
			throw new IllegalStateException(ex);
		}
	}

}
