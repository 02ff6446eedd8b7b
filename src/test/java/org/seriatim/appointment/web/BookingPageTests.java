package org.seriatim.appointment.web;

import java.nio.charset.StandardCharsets;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import org.seriatim.access.Role;
import org.seriatim.access.StaffId;
import org.seriatim.appointment.domain.KeepHours;
import org.seriatim.followup.ARecord;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.TestClock;
import org.seriatim.support.TestStaff;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

/**
 * The clinic's day is Friday 2026-11-20, day 80 of the records, by coordinated universal
 * time. The patient was treated on day 41 and reached since: the window is from Monday
 * 2026-11-23 (day 83) to Monday 2026-12-07.
 */
@PageTest
class BookingPageTests {

	private static final LocalDate MONDAY = LocalDate.of(2026, 11, 23);

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private TestStaff staff;

	@Autowired
	private JdbcClient database;

	@Autowired
	private ApplicationEventPublisher events;

	@Autowired
	private KeepHours hours;

	@Autowired
	private TestClock clock;

	private ARecord record;

	private StaffId vale;

	@BeforeEach
	void openASeries() {
		this.record = ARecord.of(this.database, "T-1", "Lindqvist", "Orsolya");
		var session = this.record.session(this.record.openSeries(), 41);
		this.record.contact(session, 70);
		changed();
		this.vale = new StaffId(
				this.database.sql("select id from staff where name = 'r.vale'").query(UUID.class).single());
		for (var day : List.of(DayOfWeek.MONDAY, DayOfWeek.TUESDAY)) {
			this.hours.enter(this.vale, day, LocalTime.of(9, 0), LocalTime.of(12, 0), LocalDate.of(2026, 1, 1));
		}
	}

	private void changed() {
		this.events.publishEvent(new PatientRecordChanged(this.record.patient()));
	}

	private String address() {
		return "/patients/" + this.record.patient() + "/appointments/new";
	}

	private String get(String address, Role... roles) {
		var result = this.pages.get().uri(address).with(this.staff.as(roles)).exchange();
		assertThat(result).hasStatusOk();
		return new String(result.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
	}

	private MvcTestResult post(String address, Map<String, String> form, Role... roles) {
		var request = this.pages.post().uri(address).with(csrf()).with(this.staff.as(roles));
		form.forEach(request::param);
		return request.exchange();
	}

	private Map<String, String> form(String purpose, LocalDate day, String time) {
		return new HashMap<>(Map.of("visitFor", purpose, "practitioner", this.vale.toString(), "visitDay",
				day.toString(), "visitTime", time));
	}

	private MvcTestResult book(String purpose, LocalDate day, String time, Role... roles) {
		return post(address(), form(purpose, day, time), roles);
	}

	private String booked(MvcTestResult result) {
		assertThat(result).hasStatus(HttpStatus.FOUND);
		assertThat(result.getResponse().getRedirectedUrl()).startsWith("/appointments/");
		return result.getResponse().getRedirectedUrl();
	}

	private Map<String, Object> row(String address) {
		return this.database.sql("select * from appointment where id = cast(:id as uuid)")
			.param("id", address.substring("/appointments/".length()))
			.query()
			.singleRow();
	}

	@Test
	void proposesFreeTimesInTheWindowAndBooksOneWithTheTimeToArrive() {
		var page = get(address(), Role.FRONT_DESK);
		assertThat(page).contains("Not before Mon 23 Nov 2026, aimed at Mon 23 Nov 2026, not after Mon 7 Dec 2026")
			.contains("Mon 23 Nov 2026, 09:00, with r.vale", "Tue 24 Nov 2026, 11:15, with r.vale")
			.doesNotContain("Fri 20 Nov 2026, ", "11:30, with r.vale", "Tue 8 Dec 2026", "??");

		var booked = booked(book("treatment", MONDAY, "09:00", Role.FRONT_DESK));

		assertThat(row(booked)).containsEntry("status", "booked").containsEntry("purpose", "treatment");
		assertThat(get(booked, Role.FRONT_DESK)).contains("Mon 23 Nov 2026, 09:00", "08:15", "09:00–09:45",
				"45 min before the start");
		assertThat(get(address(), Role.FRONT_DESK)).contains("Already booked", "Mon 23 Nov 2026, 09:45, with r.vale")
			.doesNotContain("Mon 23 Nov 2026, 09:30, with r.vale");
		assertThat(get("/patients/" + this.record.patient(), Role.FRONT_DESK)).contains(booked);
		assertThat(this.database.sql("""
				select count(*) from audit_entry where action = 'created' and kind = 'appointment'
					and patient_id = :patient""")
			.param("patient", this.record.patient().value())
			.query(Long.class)
			.single()).isOne();
	}

	@Test
	void proposesNoTreatmentForWhichThePatientWouldHaveToBeHereAlready() {
		this.clock.advance(Duration.ofDays(3).plusMinutes(5));
		// Monday, 09:05: numbing takes until 09:50 at least
		assertThat(get(address(), Role.FRONT_DESK)).contains("Mon 23 Nov 2026, 09:50, with r.vale")
			.doesNotContain("Mon 23 Nov 2026, 09:05, with r.vale", "Mon 23 Nov 2026, 09:35, with r.vale");
		assertThat(get(address() + "?purpose=review", Role.FRONT_DESK)).contains("Mon 23 Nov 2026, 09:05, with r.vale");
	}

	@Test
	void booksATreatmentOutsideTheWindowForAPractitionerWithAReasonOnly() {
		var friday = LocalDate.of(2026, 11, 20);
		assertThat(RefusedForm.messages(book("treatment", friday, "15:00", Role.FRONT_DESK))).containsOnly(Map.entry(
				"visitDay",
				"Only a practitioner or the clinic lead books this, with a reason: before the first day, outside working hours."));
		var form = form("treatment", friday, "15:00");
		form.put("reason", "travels");
		assertThat(RefusedForm.messages(post(address(), form, Role.ASSISTANT))).containsOnlyKeys("visitDay");
		assertThat(RefusedForm.messages(book("treatment", friday, "15:00", Role.PRACTITIONER)))
			.containsOnly(Map.entry("reason", "Give a reason: before the first day, outside working hours."));

		var booked = booked(post(address(), form, Role.CLINIC_LEAD));

		assertThat(get(booked, Role.PRACTITIONER)).contains("before the first day", "Reason: travels");
		assertThat(get(booked, Role.FRONT_DESK)).contains("before the first day", "A practitioner gave the reason.")
			.doesNotContain("travels");
		assertThat(RefusedForm.messages(book("treatment", LocalDate.of(2026, 12, 8), "09:00", Role.PRACTITIONER)))
			.containsOnly(Map.entry("reason", "Give a reason: after the last day."));
	}

	@ParameterizedTest
	@EnumSource(value = Role.class, names = { "FRONT_DESK", "ASSISTANT", "PRACTITIONER", "CLINIC_LEAD" })
	void booksNoTreatmentOnHoldForAnybodyButAReviewAtOnce(Role role) {
		this.record.finding(null, "burn", 79);
		changed();
		var form = form("treatment", MONDAY, "09:00");
		form.put("reason", "wants it");
		assertThat(RefusedForm.messages(post(address(), form, role))).containsOnly(
				Map.entry("visitFor", "Treatment is on hold until a practitioner has decided. Book a review instead."));
		assertThat(get(address(), role)).contains("Free times", "Mon 23 Nov 2026, 09:00, with r.vale")
			.doesNotContain("Burn", "burn");
		assertThat(get(address() + "?purpose=treatment", role)).contains("On hold: no treatment can be booked")
			.doesNotContain("with r.vale");
		booked(book("review", MONDAY, "09:00", role));
	}

	@Test
	void holdsATreatmentOfAPatientWhoHasHadNoSessionYet() {
		var other = ARecord.of(this.database, "T-2");
		other.finding(null, "granuloma", 10);
		assertThat(RefusedForm.messages(post("/patients/" + other.patient() + "/appointments/new",
				form("treatment", MONDAY, "09:00"), Role.PRACTITIONER)))
			.containsOnlyKeys("visitFor");
	}

	@Test
	void booksATreatmentBeforeTheContactThatIsAskedForWithAReasonOnly() {
		var silent = ARecord.of(this.database, "T-2");
		silent.session(silent.openSeries(), 41);
		this.events.publishEvent(new PatientRecordChanged(silent.patient()));
		var address = "/patients/" + silent.patient() + "/appointments/new";
		assertThat(get(address, Role.FRONT_DESK)).contains("Contact first.", "is booked by a practitioner")
			.doesNotContain("with r.vale");
		assertThat(get(address, Role.PRACTITIONER)).contains("Contact first.", "Mon 23 Nov 2026, 09:00, with r.vale");
		assertThat(RefusedForm.messages(post(address, form("treatment", MONDAY, "09:00"), Role.FRONT_DESK)))
			.containsOnlyKeys("visitDay");
		var form = form("treatment", MONDAY, "09:00");
		form.put("reason", "felt for lumps in passing");
		booked(post(address, form, Role.PRACTITIONER));
	}

	@Test
	void asksAnybodyForAReasonOutsideHoursAndOnClosedDays() {
		assertThat(RefusedForm.messages(book("review", MONDAY, "11:50", Role.FRONT_DESK)))
			.containsOnly(Map.entry("reason", "Give a reason: outside working hours."));
		this.hours.close(null, MONDAY, MONDAY, "Public holiday");
		assertThat(RefusedForm.messages(book("review", MONDAY, "09:00", Role.FRONT_DESK)))
			.containsOnly(Map.entry("reason", "Give a reason: the clinic is closed."));
		this.hours.close(this.vale, MONDAY.plusDays(1), MONDAY.plusDays(1), null);
		assertThat(RefusedForm.messages(book("review", MONDAY.plusDays(1), "09:00", Role.FRONT_DESK)))
			.containsOnly(Map.entry("reason", "Give a reason: the practitioner is away."));
		var form = form("review", MONDAY, "09:00");
		form.put("reason", "comes from far away");
		booked(post(address(), form, Role.FRONT_DESK));
	}

	@Test
	void saysWhoWasFirstAndWhatIsFreeNext() {
		booked(book("treatment", MONDAY, "09:00", Role.FRONT_DESK));
		var other = ARecord.of(this.database, "T-2").patient();
		var late = post("/patients/" + other + "/appointments/new", form("review", MONDAY, "09:30"), Role.FRONT_DESK);
		assertThat(late).hasStatus(HttpStatus.CONFLICT);
		assertThat(RefusedForm.messages(late)).containsOnly(Map.entry("visitTime",
				"Somebody else was booked for Mon 23 Nov 2026, 09:30 a moment ago. The next free time is Mon 23 Nov 2026, 09:45, with r.vale."));
		assertThat(late).bodyText().contains("Take Mon 23 Nov 2026, 09:45, with r.vale");
	}

	@Test
	void booksNobodyForTwoPlacesAtOneTime() {
		booked(book("review", MONDAY, "09:00", Role.FRONT_DESK));
		var form = form("review", MONDAY, "09:10");
		form.put("practitioner", this.staff.member(Role.PRACTITIONER).getUsername());
		var ash = this.database.sql("insert into staff (name) values ('b.ash') returning id")
			.query(UUID.class)
			.single();
		this.hours.enter(new StaffId(ash), DayOfWeek.MONDAY, LocalTime.of(9, 0), LocalTime.of(12, 0), MONDAY);
		form.put("practitioner", ash.toString());
		assertThat(RefusedForm.messages(post(address(), form, Role.FRONT_DESK)))
			.containsOnly(Map.entry("visitTime", "The patient has another appointment at that time."));
	}

	@Test
	void movesWithAReasonAndKeepsWhereItStood() {
		var booked = booked(book("review", MONDAY, "09:00", Role.FRONT_DESK));
		var form = form("review", MONDAY, "10:00");
		form.put("version", "0");
		assertThat(RefusedForm.messages(post(booked + "/move", form, Role.FRONT_DESK)))
			.containsOnly(Map.entry("reason", "Say why it is moved."));
		form.put("reason", "train was cancelled");
		assertThat(post(booked + "/move", form, Role.FRONT_DESK)).hasRedirectedUrl(booked);
		assertThat(row(booked)).containsEntry("version", 1L).containsEntry("correction_reason", "train was cancelled");
		assertThat(get(booked, Role.FRONT_DESK)).contains("10:00–10:20");
		assertThat(get("/history/appointment/" + booked.substring("/appointments/".length()), Role.PRACTITIONER))
			.contains("train was cancelled", "23 Nov 2026, 09:00", "23 Nov 2026, 10:00");
		assertThat(post(booked + "/move", form, Role.FRONT_DESK)).as("from the first version")
			.hasStatus(HttpStatus.CONFLICT);
	}

	@Test
	void cancelsWithAReasonAndBooksTheSameTimeAgain() {
		var booked = booked(book("review", MONDAY, "09:00", Role.FRONT_DESK));
		assertThat(RefusedForm.messages(post(booked + "/cancel", Map.of("version", "0"), Role.FRONT_DESK)))
			.containsOnly(Map.entry("reason", "Say why it is cancelled."));
		assertThat(post(booked + "/cancel", Map.of("version", "0", "reason", "ill"), Role.FRONT_DESK))
			.hasRedirectedUrl(booked);
		assertThat(row(booked)).containsEntry("status", "cancelled").containsEntry("correction_reason", "ill");
		assertThat(booked(book("treatment", MONDAY, "09:00", Role.FRONT_DESK))).isEqualTo(booked);
		assertThat(row(booked)).containsEntry("status", "booked").containsEntry("version", 2L);
		// and a move onto a cancelled time of the same patient
		var other = booked(book("review", MONDAY, "10:00", Role.FRONT_DESK));
		post(other + "/cancel", Map.of("version", "0", "reason", "by mistake"), Role.FRONT_DESK);
		var form = form("treatment", MONDAY, "10:00");
		form.put("version", "2");
		form.put("reason", "later");
		assertThat(post(booked + "/move", form, Role.FRONT_DESK)).hasRedirectedUrl(other);
		assertThat(row(booked)).containsEntry("status", "cancelled").containsEntry("correction_reason", "later");
		assertThat(row(other)).containsEntry("status", "booked").containsEntry("purpose", "treatment");
	}

	@Test
	void notesWhoCameOnTheDay() {
		var booked = booked(book("review", MONDAY, "09:00", Role.FRONT_DESK));
		assertThat(post(booked + "/note", Map.of("version", "0", "status", "arrived"), Role.FRONT_DESK))
			.as("three days before")
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		this.clock.advance(Duration.ofDays(3).plusMinutes(5));
		assertThat(get("/diary?day=" + MONDAY, Role.FRONT_DESK)).contains("Lindqvist, Orsolya", "Has come",
				"Did not come", "09:00–09:20");
		assertThat(post(booked + "/note", Map.of("version", "0", "status", "no_show"), Role.FRONT_DESK))
			.hasRedirectedUrl(booked);
		assertThat(
				post(booked + "/note", Map.of("version", "1", "status", "arrived", "diary", "true"), Role.FRONT_DESK))
			.hasRedirectedUrl("/diary?day=" + MONDAY);
		assertThat(post(booked + "/note", Map.of("version", "2", "status", "completed"), Role.FRONT_DESK))
			.hasRedirectedUrl(booked);
		assertThat(post(booked + "/note", Map.of("version", "3", "status", "no_show"), Role.FRONT_DESK))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(post(booked + "/note", Map.of("version", "1", "status", "arrived"), Role.FRONT_DESK))
			.hasStatus(HttpStatus.CONFLICT);
	}

	@Test
	void letsAPractitionerSetWhenAPatientIsToCome() {
		var booked = booked(book("treatment", MONDAY, "10:00", Role.FRONT_DESK));
		assertThat(post(booked + "/numbing", Map.of("version", "0", "numbingMinutes", "90"), Role.FRONT_DESK))
			.hasStatus(HttpStatus.FORBIDDEN);
		assertThat(RefusedForm
			.messages(post(booked + "/numbing", Map.of("version", "0", "numbingMinutes", "301"), Role.PRACTITIONER)))
			.containsOnlyKeys("numbingMinutes");
		assertThat(post(booked + "/numbing", Map.of("version", "0", "numbingMinutes", "90"), Role.PRACTITIONER))
			.hasRedirectedUrl(booked);
		assertThat(get(booked, Role.FRONT_DESK)).contains("08:30", "90 min before the start");
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|',
			textBlock = """
					visitFor     |                                      | Choose what the visit is for.
					visitFor     | surgery                              | Choose one of the values offered.
					practitioner |                                      | Choose a practitioner.
					practitioner | 01980000-0000-7000-8000-000000000000 | There is no such practitioner.
					visitDay     |                                      | Choose a day.
					visitDay     | 23.11.2026                           | Enter a date as year-month-day, for example 2026-03-21.
					visitDay     | 2026-11-19                           | Choose today or a later day.
					visitDay     | 2206-11-23                           | Choose a day within two years.
					visitTime    |                                      | Enter a time, for example 14:30.
					visitTime    | nine                                 | Enter a time as hours:minutes, for example 14:30.
					visitMinutes | 481                                  | Enter a whole number from 5 to 480 minutes.
					visitMinutes | half                                 | Enter a whole number from 5 to 480 minutes.
					""")
	void saysBesideTheFieldWhatToMend(String field, String value, String message) {
		var form = form("review", MONDAY, "09:00");
		form.put(field, (value != null) ? value : "");
		assertThat(RefusedForm.messages(post(address(), form, Role.FRONT_DESK)))
			.containsOnly(Map.entry(field, message));
		assertThat(this.database.sql("select count(*) from appointment").query(Long.class).single()).isZero();
	}

	@Test
	void refusesATimeThatHasPassedToday() {
		assertThat(RefusedForm.messages(book("review", LocalDate.of(2026, 11, 20), "08:59", Role.FRONT_DESK)))
			.containsOnly(Map.entry("visitTime", "This time has passed."));
	}

	@Test
	void isClosedToAnAdministrator() {
		assertThat(this.pages.get().uri(address()).with(this.staff.as(Role.ADMINISTRATOR)).exchange())
			.hasStatus(HttpStatus.FORBIDDEN);
		assertThat(book("review", MONDAY, "09:00", Role.ADMINISTRATOR)).hasStatus(HttpStatus.FORBIDDEN);
	}

	@Test
	void showsAWeekAsATableAndWhoIsBookedOnClosedDays() {
		booked(book("review", MONDAY, "09:00", Role.FRONT_DESK));
		assertThat(get("/diary?view=week&day=2026-11-25", Role.FRONT_DESK)).contains("23 Nov 2026 to 29 Nov 2026",
				"09:00–12:00", "09:00–09:20", "Lindqvist, Orsolya", "no hours");
		assertThat(post("/closed-days",
				Map.of("practitioner", this.vale.toString(), "closedFrom", "2026-11-23", "closedUntil", "2026-11-24"),
				Role.FRONT_DESK))
			.hasRedirectedUrl("/closed-days");
		assertThat(get("/closed-days", Role.FRONT_DESK)).contains("1 appointment", "Mon 23 Nov 2026 – Tue 24 Nov 2026");
		assertThat(get("/diary?day=2026-11-23", Role.FRONT_DESK)).contains("the practitioner is away");
		assertThat(get(address() + "?purpose=review", Role.FRONT_DESK)).doesNotContain("Tue 24 Nov 2026, 09:00");
		var closed = this.hours.closed(MONDAY).get(0);
		assertThat(post("/closed-days/" + closed.id() + "/take-back", Map.of("version", "0"), Role.FRONT_DESK))
			.hasRedirectedUrl("/closed-days");
		assertThat(get(address() + "?purpose=review", Role.FRONT_DESK)).contains("Tue 24 Nov 2026, 09:00");
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', textBlock = """
			closedFrom  |            | closedFrom  | Fill this in.
			closedUntil | 2026-12-23 | closedUntil | The last day lies before the first.
			closedUntil | 9026-12-23 | closedUntil | Is the year right?
			closure     |            | closure     | Say why the clinic is closed.
			""")
	void refusesClosedDaysThatCannotBe(String field, String value, String at, String message) {
		var form = new HashMap<>(
				Map.of("closedFrom", "2026-12-24", "closedUntil", "2026-12-26", "closure", "Holidays"));
		form.put(field, (value != null) ? value : "");
		assertThat(RefusedForm.messages(post("/closed-days", form, Role.FRONT_DESK)))
			.containsOnly(Map.entry(at, message));
	}

	@Test
	void keepsHoursAndLengthsInVersions() {
		assertThat(get("/setup/hours", Role.CLINIC_LEAD)).contains("r.vale", "Monday", "09:00–12:00", "no end");
		var mondays = this.hours.hours(MONDAY).get(0);
		var form = new HashMap<>(Map.of("version", "0", "practitioner", this.vale.toString(), "weekday", "monday",
				"starts", "10:00", "ends", "12:00", "validFrom", "2026-01-01"));
		assertThat(post("/setup/hours/" + mondays.id() + "/edit", form, Role.ADMINISTRATOR))
			.hasRedirectedUrl("/setup/hours");
		assertThat(post("/setup/hours/" + mondays.id() + "/edit", form, Role.CLINIC_LEAD))
			.hasStatus(HttpStatus.CONFLICT);
		assertThat(get(address(), Role.FRONT_DESK)).contains("Mon 23 Nov 2026, 10:00")
			.doesNotContain("Mon 23 Nov 2026, 09:00");
		form.put("starts", "11:00");
		form.put("ends", "13:00");
		assertThat(RefusedForm.messages(post("/setup/hours/new", form, Role.CLINIC_LEAD)))
			.containsOnly(Map.entry("starts", "There are other hours of this practitioner at that time."));
		form.put("ends", "10:00");
		assertThat(RefusedForm.messages(post("/setup/hours/new", form, Role.CLINIC_LEAD)))
			.containsOnly(Map.entry("ends", "The end must lie after the start."));
		assertThat(post("/setup/hours/new", form, Role.FRONT_DESK)).hasStatus(HttpStatus.FORBIDDEN);
		assertThat(post("/setup/visit-lengths/treatment/edit",
				Map.of("version", "0", "visitMinutes", "60", "numbingMinutes", "30"), Role.CLINIC_LEAD))
			.hasRedirectedUrl("/setup/hours");
		assertThat(get(booked(book("treatment", MONDAY, "10:00", Role.FRONT_DESK)), Role.FRONT_DESK))
			.contains("10:00–11:00", "09:30", "30 min before the start");
		assertThat(this.database.sql("""
				select count(*) from previous_version where table_name in ('working_hours', 'visit_length')""")
			.query(Long.class)
			.single()).isEqualTo(2);
	}

}
