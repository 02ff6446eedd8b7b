package org.seriatim.appointment.web;

import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.access.Role;
import org.seriatim.appointment.domain.BookAppointment;
import org.seriatim.appointment.domain.RemindPatients;
import org.seriatim.contactlink.TestLinks;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestClock;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.web.util.HtmlUtils;

import static org.assertj.core.api.Assertions.assertThat;

/** A clinic lead says when and in which words patients are reminded; the desk sees it. */
@PageTest
@SignedInAs(Role.CLINIC_LEAD)
class ReminderPageTests {

	private static final String PAGE = "/setup/reminders";

	@Autowired
	MockMvcTester browser;

	@Autowired
	JdbcClient database;

	@Autowired
	TestStaff staff;

	@Autowired
	TestClock clock;

	@Autowired
	BookAppointment booking;

	@Autowired
	RemindPatients reminders;

	@Test
	void isOffUntilAClinicLeadSetsIt() {
		TestLinks.setUp(this.database);
		assertThat(get(PAGE)).hasStatusOk()
			.bodyText()
			.contains("Nobody is reminded", "These words must not stand there");
		assertThat(post(PAGE, form(Map.of()))).hasRedirectedUrl(PAGE);
		assertThat(get(PAGE)).bodyText()
			// two days on from 20 November, with an invented time
			.contains("We expect you on Sunday 22 November 2026, 09:15", "Clinic by the Lake", "Versions")
			.doesNotContain("Nobody is reminded");
		assertThat(count("reminder_settings")).isEqualTo(2);
		assertThat(count("audit_entry where kind = 'reminder_settings' and staff_id is not null")).isOne();
		assertThat(post(PAGE, form(Map.of("reminderDays", "")))).as("somebody saved one in the meantime")
			.hasStatus(HttpStatus.CONFLICT);
		assertThat(post(PAGE, form(Map.of("basedOn", "2", "reminderDays", "")))).hasRedirectedUrl(PAGE);
		assertThat(get(PAGE)).bodyText().contains("Nobody is reminded");
	}

	@Test
	void showsWhatItWouldSayAndSavesNothing() {
		TestLinks.setUp(this.database);
		assertThat(post(PAGE, form(Map.of("preview", "true", "reminderDays", "3")))).hasStatusOk()
			.bodyText()
			.contains("We expect you on Monday 23 November 2026, 09:15. Clinic by the Lake, +00 555 0101");
		assertThat(count("reminder_settings")).isOne();
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', value = { "reminderDays|0|Enter a whole number from 1 to 14 days.",
			"reminderDays|15|Enter a whole number from 1 to 14 days.",
			"reminderDays|-1|Enter a whole number from 1 to 14 days.",
			"reminderDays|1.5|Enter a whole number from 1 to 14 days.",
			"reminderDays|two|Enter a whole number from 1 to 14 days.",
			"reminderDays|99999999999|Enter a whole number from 1 to 14 days.",
			"reminderSubject|''|Enter it, or leave the days empty to remind nobody.",
			"reminderBody|'  '|Enter it, or leave the days empty to remind nobody.",
			"reminderSubject|{name}|There is nothing to put in for {name}.",
			"reminderBody|{date} {time} {Date}|There is nothing to put in for {Date}.",
			"reminderBody|{date} {time} {}|There is nothing to put in for {}.",
			"reminderBody|{date} {time} {phone|A place begins with a curly bracket and ends with one. Take the other brackets out.",
			"reminderBody|Come at {time}|Put in {date} where it is to stand.",
			"reminderBody|Come on {date}|Put in {time} where it is to stand.",
			"reminderSubject|Your treatment|Take out “treatment”: it tells something about health.",
			"reminderBody|{date} {time} for your SCARS|Take out “SCARS”: it tells something about health.",
			"reminderBody|{date} {time}: the numbing cream|Take out “numbing”: it tells something about health.",
			"reminderBody|{date} {time} https://clinic.example|Take the address of a page out. Mail with links looks like fraud, and no link is needed here." })
	void saysWhatIsWrongBesideTheField(String field, String value, String message) {
		TestLinks.setUp(this.database);
		var answer = post(PAGE, form(Map.of(field, value)));
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(answer)).containsEntry(field, message);
		assertThat(answer).bodyText().contains(value.isBlank() ? "reminderBody" : escaped(value));
		assertThat(count("reminder_settings")).isOne();
	}

	@Test
	void saysWhatIsTooLongOrNotOnOneLine() {
		TestLinks.setUp(this.database);
		assertThat(RefusedForm.messages(post(PAGE,
				form(Map.of("reminderSubject", "a".repeat(121), "reminderBody", "{date} {time}" + "a".repeat(2000))))))
			.containsOnlyKeys("reminderSubject", "reminderBody");
		assertThat(RefusedForm.messages(post(PAGE, form(Map.of("reminderSubject", "a\u0007b")))))
			.containsEntry("reminderSubject", "Write it in one line.");
	}

	@Test
	void putsInNoNameThatNobodyHasSet() {
		assertThat(RefusedForm
			.messages(post(PAGE, form(Map.of("reminderSubject", "{phone}", "reminderBody", "{date} {time} {clinic}")))))
			.containsEntry("reminderSubject",
					"The clinic's telephone is not set. Set it under Links for patients, or take the place out.")
			.containsEntry("reminderBody",
					"The clinic's name is not set. Set it under Links for patients, or take the place out.");
	}

	/* No mail server is set in tests: the outbox shows what would be sent. */
	@Test
	@SignedInAs(Role.FRONT_DESK)
	void showsTheDeskWhatBecomesOfAReminder() {
		TestLinks.setUp(this.database);
		this.database.sql("""
				insert into reminder_settings (number, published_at, days, subject, body)
				values (2, now(), 2, 'Your appointment', 'We expect you on {date}, {time}.')""").update();
		var treatment = new TestTreatment(this.database);
		var patient = treatment.patient("K1");
		this.database.sql("update patient set email = 'ada@example.org', version = version + 1").update();
		var id = this.booking.book(patient, AppointmentPurpose.REVIEW, treatment.practitioner(),
				Instant.parse("2026-11-24T10:00:00Z"), null, null, null);
		assertThat(get("/appointments/" + id)).bodyText().contains("by e-mail", "Sun 22 Nov 2026, 09:00");
		this.clock.advance(Duration.ofDays(2));
		this.reminders.bringUpToDate();
		var message = this.database.sql("select id from outbox_message").query(UUID.class).single();
		assertThat(get("/appointments/" + id)).bodyText().contains("Waits", "/outbox/" + message);
		assertThat(get("/outbox")).bodyText()
			.contains("ada@example.org", "Reminder of an appointment", "24 Nov 2026, 10:00", "Waits");
		assertThat(get("/outbox/" + message)).bodyText()
			.contains("Your appointment", "We expect you on Tuesday 24 November 2026, 10:00.", "No more reminders: ",
					"/appointments/" + id);

		var link = "/patients/" + patient + "/contact-link";
		assertThat(post(link + "/reminders", "wanted", "false")).hasRedirectedUrl(link);
		assertThat(get(link)).bodyText().contains("The patient wants no reminders of appointments.");
		assertThat(get("/appointments/" + id)).bodyText().contains("none: the patient wants none");
		assertThat(get("/outbox/" + message)).bodyText().contains("The patient wants no e-mail", "not to go any more");
		post(link + "/reminders", "wanted", "true");
		this.reminders.bringUpToDate();
		assertThat(get("/outbox/" + message)).bodyText().contains("We expect you on");
	}

	@Test
	void isNotForTheDesk() {
		for (var role : new Role[] { Role.FRONT_DESK, Role.PRACTITIONER, Role.ASSISTANT }) {
			assertThat(this.browser.get().uri(PAGE).with(this.staff.as(role))).as("%s", role)
				.hasStatus(HttpStatus.FORBIDDEN);
		}
	}

	private static String escaped(String value) {
		return HtmlUtils.htmlEscape(value, "UTF-8");
	}

	private static String[] form(Map<String, String> changed) {
		var fields = new LinkedHashMap<String, String>(Map.of("basedOn", "1", "reminderDays", "2", "reminderSubject",
				"Your appointment", "reminderBody", "We expect you on {date}, {time}. {clinic}, {phone}"));
		fields.putAll(changed);
		return fields.entrySet()
			.stream()
			.flatMap((entry) -> Stream.of(entry.getKey(), entry.getValue()))
			.toArray(String[]::new);
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
