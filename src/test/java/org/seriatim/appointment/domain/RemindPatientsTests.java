package org.seriatim.appointment.domain;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.concurrent.CompletableFuture;
import java.util.regex.Pattern;

import com.icegreen.greenmail.util.GreenMailUtil;
import jakarta.mail.MessagingException;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.access.Role;
import org.seriatim.access.StaffId;
import org.seriatim.appointment.AppointmentId;
import org.seriatim.contactlink.MailText;
import org.seriatim.contactlink.PatientMail;
import org.seriatim.contactlink.TestLinks;
import org.seriatim.contactlink.domain.TestMail;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.support.PageTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestClock;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationContext;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * A patient is reminded once of each time, by a real SMTP server. The clinic reminds two
 * days before; it is Friday 20 November 2026, 09:00.
 */
@PageTest
@SignedInAs(Role.FRONT_DESK)
class RemindPatientsTests {

	private static final Instant TUESDAY_AT_TEN = Instant.parse("2026-11-24T10:00:00Z");

	private static final Instant SUNDAY_AT_NINE = Instant.parse("2026-11-22T09:00:00Z");

	@Autowired
	JdbcClient database;

	@Autowired
	RemindPatients reminders;

	@Autowired
	KeepReminderSettings settings;

	@Autowired
	BookAppointment booking;

	@Autowired
	Diary diary;

	@Autowired
	PatientMail mail;

	@Autowired
	PatientDirectory patients;

	@Autowired
	MockMvcTester browser;

	@Autowired
	TestClock clock;

	@Autowired
	ApplicationContext service;

	private TestMail server;

	private PatientId patient;

	private StaffId practitioner;

	@BeforeEach
	void setUpAClinicThatReminds() {
		this.server = TestMail.start(this.service);
		TestLinks.setUp(this.database);
		var treatment = new TestTreatment(this.database);
		this.patient = treatment.patient("K1-SECRET");
		this.practitioner = treatment.practitioner();
		this.database.sql("update patient set family_name = 'Quill', email = 'ada@example.org', version = version + 1")
			.update();
		this.settings.set(2, "Your appointment", "We expect you on {date}, {time}. {clinic}, {phone}\n");
	}

	@AfterEach
	void stop() {
		this.server.close();
	}

	@Test
	void remindsTwoDaysBeforeFromNineOnAndSaysWhenToArriveAndNothingElse() throws MessagingException {
		book(AppointmentPurpose.TREATMENT, TUESDAY_AT_TEN);
		goOn(SUNDAY_AT_NINE.minusSeconds(1));
		assertThat(this.server.arrived()).isEmpty();
		goOn(SUNDAY_AT_NINE);
		assertThat(this.server.arrived()).hasSize(1);
		goOn(SUNDAY_AT_NINE.plusSeconds(60));
		goOn(TUESDAY_AT_TEN);
		assertThat(this.server.arrived()).as("once").hasSize(1);
		var arrived = this.server.arrived()[0];
		assertThat(arrived.getSubject()).isEqualTo("Your appointment");
		// a treatment is numbed for 45 minutes before it starts
		assertThat(TestMail.textOf(arrived))
			.startsWith("We expect you on Tuesday 24 November 2026, 09:15. Clinic by the Lake, +00 555 0101\n");
		assertThat(GreenMailUtil.getWholeMessage(arrived)).doesNotContain("Quill", "K1", "reatment", "10:00");
	}

	@Test
	void remindsOfTheTimeThatHoldsWhenItWasMovedBefore() {
		var id = book(AppointmentPurpose.REVIEW, TUESDAY_AT_TEN);
		bringUpToDateAt(SUNDAY_AT_NINE);
		assertThat(state()).isEqualTo("waiting");
		move(id, TUESDAY_AT_TEN.plus(Duration.ofDays(2)));
		assertThat(state()).as("with the move, not later").isEqualTo("withdrawn");
		goOn(SUNDAY_AT_NINE.plusSeconds(60));
		assertThat(this.server.arrived()).isEmpty();
		goOn(SUNDAY_AT_NINE.plus(Duration.ofDays(2)));
		assertThat(TestMail.textOf(this.server.arrived()[0])).contains("Thursday 26 November 2026, 10:00");
	}

	@Test
	void remindsAgainOfAnotherTimeAndNeverTwiceOfOne() {
		var id = book(AppointmentPurpose.REVIEW, TUESDAY_AT_TEN);
		goOn(SUNDAY_AT_NINE);
		move(id, TUESDAY_AT_TEN.plus(Duration.ofHours(1)));
		goOn(SUNDAY_AT_NINE.plusSeconds(60));
		assertThat(this.server.arrived()).hasSize(2);
		assertThat(TestMail.textOf(this.server.arrived()[1])).contains("24 November 2026, 11:00");
		move(id, TUESDAY_AT_TEN);
		goOn(SUNDAY_AT_NINE.plusSeconds(120));
		assertThat(this.server.arrived()).hasSize(2);
		assertThat(this.reminders.outlook(this.diary.byId(id).orElseThrow()).orElseThrow().toldOf())
			.as("the desk is told that the patient goes by another time")
			.isEqualTo(TUESDAY_AT_TEN.plus(Duration.ofHours(1)));
	}

	@Test
	void remindsAfterAllWhenMovedBackBeforeItWent() {
		var id = book(AppointmentPurpose.REVIEW, TUESDAY_AT_TEN);
		bringUpToDateAt(SUNDAY_AT_NINE);
		move(id, TUESDAY_AT_TEN.plus(Duration.ofDays(7)));
		move(id, TUESDAY_AT_TEN);
		goOn(SUNDAY_AT_NINE.plusSeconds(60));
		goOn(SUNDAY_AT_NINE.plusSeconds(120));
		assertThat(this.server.arrived()).hasSize(1);
	}

	@Test
	void remindsNobodyOfWhatIsCancelled() {
		var id = book(AppointmentPurpose.REVIEW, TUESDAY_AT_TEN);
		bringUpToDateAt(SUNDAY_AT_NINE);
		this.booking.cancel(id, version(id), "ill");
		assertThat(state()).isEqualTo("withdrawn");
		goOn(SUNDAY_AT_NINE.plusSeconds(60));
		assertThat(this.server.arrived()).isEmpty();
		book(AppointmentPurpose.REVIEW, TUESDAY_AT_TEN);
		goOn(SUNDAY_AT_NINE.plusSeconds(120));
		assertThat(this.server.arrived()).as("booked again for the same time").hasSize(1);
	}

	/* What an import changes, nobody withdraws. */
	@Test
	void looksAtTheDiaryOnceMoreBeforeItGoes() {
		book(AppointmentPurpose.REVIEW, TUESDAY_AT_TEN);
		bringUpToDateAt(SUNDAY_AT_NINE);
		this.database.sql("update appointment set status = 'cancelled', version = version + 1").update();
		this.server.send();
		assertThat(this.server.arrived()).isEmpty();
		assertThat(state()).isEqualTo("withdrawn");
	}

	@Test
	void remindsOnceThoughTwoServicesLookAtOnce() {
		for (int day = 0; day < 10; day++) {
			book(AppointmentPurpose.REVIEW, TUESDAY_AT_TEN.plus(Duration.ofMinutes(30L * day)));
		}
		this.clock.setTo(SUNDAY_AT_NINE);
		Runnable one = () -> {
			this.reminders.bringUpToDate();
			this.server.send();
		};
		CompletableFuture.allOf(CompletableFuture.runAsync(one), CompletableFuture.runAsync(one)).join();
		this.server.send();
		assertThat(this.server.arrived()).hasSize(10);
		assertThat(this.database.sql("select count(*) from outbox_message").query(Integer.class).single())
			.isEqualTo(10);
	}

	/*
	 * In Berlin the clocks go back on Sunday 25 October 2026: from nine on Saturday to
	 * ten on Monday are 50 hours.
	 */
	@Test
	void countsDaysByTheCalendarWhereTheClocksAreChanged() {
		this.clock.setTo(Instant.parse("2026-10-20T08:00:00Z"));
		book(AppointmentPurpose.REVIEW, Instant.parse("2026-10-26T09:00:00Z"));
		var berlin = new RemindPatients(this.database, this.mail, this.settings, this.patients,
				this.clock.withZone(ZoneId.of("Europe/Berlin")));
		this.clock.setTo(Instant.parse("2026-10-24T06:59:59Z"));
		berlin.bringUpToDate();
		assertThat(this.mail.waitingReminders()).isEmpty();
		this.clock.setTo(Instant.parse("2026-10-24T07:00:00Z"));
		berlin.bringUpToDate();
		assertThat(this.mail.waitingReminders()).hasSize(1);
		assertThat(
				berlin.textOf(this.mail.waitingReminders().get(0).appointment(), Instant.parse("2026-10-26T09:00:00Z"))
					.orElseThrow()
					.body())
			.startsWith("We expect you on Monday 26 October 2026, 10:00.");
	}

	@Test
	void remindsAtOnceWhoIsBookedLateAndNobodyWithinTwoHours() {
		this.clock.setTo(Instant.parse("2026-11-24T07:00:00Z"));
		book(AppointmentPurpose.REVIEW, TUESDAY_AT_TEN);
		book(AppointmentPurpose.REVIEW, TUESDAY_AT_TEN.minus(Duration.ofMinutes(61)));
		goOn(Instant.parse("2026-11-24T07:00:00Z"));
		assertThat(this.server.arrived()).hasSize(1);
		assertThat(TestMail.textOf(this.server.arrived()[0])).contains("24 November 2026, 10:00");
	}

	@Test
	void remindsNobodyOfATreatmentOnHold() {
		book(AppointmentPurpose.TREATMENT, TUESDAY_AT_TEN);
		bringUpToDateAt(SUNDAY_AT_NINE);
		this.database.sql("""
				insert into finding (code, patient_id, kind, region, first_noted_on, grade, serious)
				values ('F1', ?, 'burn', 'nose', '2026-11-21', 1, false)""").param(this.patient.value()).update();
		this.server.send();
		assertThat(this.server.arrived()).isEmpty();
		this.reminders.bringUpToDate();
		assertThat(state()).isEqualTo("withdrawn");
		this.database.sql("""
				update finding set closed_on = '2026-11-22', closed_by = ?, version = version + 1""")
			.param(this.practitioner.value())
			.update();
		goOn(SUNDAY_AT_NINE.plusSeconds(60));
		assertThat(this.server.arrived()).as("once the hold is over").hasSize(1);
	}

	@Test
	void remindsNobodyWhoWantsNone() {
		book(AppointmentPurpose.REVIEW, TUESDAY_AT_TEN);
		book(AppointmentPurpose.REVIEW, TUESDAY_AT_TEN.plus(Duration.ofDays(1)));
		goOn(SUNDAY_AT_NINE);
		var optOut = Pattern.compile("No more reminders: https://clinic.example(/answer/no-reminders/\\S{43})")
			.matcher(TestMail.textOf(this.server.arrived()[0]));
		assertThat(optOut.find()).isTrue();
		bringUpToDateAt(SUNDAY_AT_NINE.plus(Duration.ofDays(1)));
		assertThat(this.mail.waitingReminders()).hasSize(1);

		// without a sign-in, a cookie, or a token of a form; opening it changes nothing
		assertThat(this.browser.get().uri(optOut.group(1))).hasStatusOk().bodyText().contains("No more reminders");
		assertThat(this.mail.refusesReminders(this.patient)).isFalse();
		assertThat(this.browser.post().uri(optOut.group(1))).hasStatusOk();
		assertThat(this.mail.refusesReminders(this.patient)).isTrue();
		assertThat(this.mail.waitingReminders()).isEmpty();
		goOn(SUNDAY_AT_NINE.plus(Duration.ofDays(2)));
		assertThat(this.server.arrived()).hasSize(1);
		assertThat(this.database.sql("select opted_out from mail_choice").query(Boolean.class).single())
			.as("other mail is still wanted")
			.isFalse();
		assertThat(this.browser.get().uri("/answer/no-reminders/" + "A".repeat(43))).hasStatus(HttpStatus.NOT_FOUND);
	}

	@Test
	void remindsNobodyBeforeTheClinicHasSetIt() {
		this.settings.save(new ReminderSettings(this.settings.current().number(), null, null, null));
		book(AppointmentPurpose.REVIEW, TUESDAY_AT_TEN);
		goOn(SUNDAY_AT_NINE);
		assertThat(this.server.arrived()).isEmpty();
		assertThat(this.mail.waitingReminders()).isEmpty();
	}

	@Test
	void takesOutWhatWaitsWhenItIsTurnedOff() {
		book(AppointmentPurpose.REVIEW, TUESDAY_AT_TEN);
		bringUpToDateAt(SUNDAY_AT_NINE);
		this.settings.save(new ReminderSettings(this.settings.current().number(), null, null, null));
		this.server.send();
		assertThat(this.server.arrived()).isEmpty();
		assertThat(state()).isEqualTo("withdrawn");
	}

	@Test
	void putsInWhatWasSetAndNothingTwice() {
		assertThat(new ReminderSettings(1, 2, "{clinic}", "{date} {time} {clinic} {phone}")
			.write(LocalDate.of(2026, 3, 29), LocalTime.of(8, 5), new PatientMail.Clinic("A {phone}", null, true)))
			.isEqualTo(new MailText("A {phone}", "Sunday 29 March 2026 08:05 A {phone} "));
	}

	private AppointmentId book(AppointmentPurpose purpose, Instant starts) {
		return this.booking.book(this.patient, purpose, this.practitioner, starts, null, null, null);
	}

	private void move(AppointmentId id, Instant to) {
		this.booking.move(id, version(id), this.practitioner, to, null, "asked for");
	}

	private long version(AppointmentId id) {
		return this.diary.byId(id).orElseThrow().version();
	}

	private void goOn(Instant now) {
		bringUpToDateAt(now);
		this.server.send();
	}

	private void bringUpToDateAt(Instant now) {
		this.clock.setTo(now);
		this.reminders.bringUpToDate();
	}

	private String state() {
		return this.database.sql("select state from outbox_message").query(String.class).single();
	}

}
