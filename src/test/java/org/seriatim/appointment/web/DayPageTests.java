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
import java.util.regex.Pattern;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
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
import org.seriatim.support.TestClock;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.SessionId;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

/** The clinic's day is Friday 2026-11-20, day 80 of the records. */
@PageTest
class DayPageTests {

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

	private ARecord asked;

	private SessionId askedAfter;

	private ARecord held;

	private ARecord ended;

	@BeforeEach
	void openSeries() {
		this.asked = ARecord.of(this.database, "T-1", "Lindqvist", "Orsolya");
		this.askedAfter = this.asked.session(this.asked.openSeries(), 79);
		this.held = ARecord.of(this.database, "T-2", "Okafor", "Tamsin");
		var heldSession = this.held.session(this.held.openSeries(), 60);
		this.held.finding(heldSession, "burn", 61);
		this.held.contact(heldSession, 79);
		this.held.book(90);
		this.ended = ARecord.of(this.database, "T-3", "Silvestre", "Noor");
		var series = this.ended.openSeries();
		this.ended.session(series, -5);
		this.ended.end(series, 10);
		List.of(this.asked, this.held, this.ended).forEach(this::changed);
		var vale = new StaffId(
				this.database.sql("select id from staff where name = 'r.vale'").query(UUID.class).single());
		for (var day : List.of(DayOfWeek.MONDAY, DayOfWeek.TUESDAY, DayOfWeek.FRIDAY)) {
			this.hours.enter(vale, day, LocalTime.of(9, 0), LocalTime.of(17, 0), LocalDate.of(2026, 1, 1));
		}
	}

	private void changed(ARecord record) {
		this.events.publishEvent(new PatientRecordChanged(record.patient()));
	}

	private String page(String address, Role... roles) {
		var result = this.pages.get().uri(address).with(this.staff.as(roles)).exchange();
		assertThat(result).hasStatusOk();
		return new String(result.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
	}

	/** What is to be done, without what was done. */
	private String list(String address, Role... roles) {
		return page(address, roles).split("id=\"handled\"")[0];
	}

	private String handled() {
		return page("/today", Role.FRONT_DESK).split("id=\"handled\"")[1];
	}

	private List<String> order(String address) {
		return Pattern.compile(">(T-\\d)<")
			.matcher(list(address, Role.FRONT_DESK))
			.results()
			.map((found) -> found.group(1))
			.toList();
	}

	private MvcTestResult contact(String outcome) {
		var form = new HashMap<>(
				Map.of("contactedOn", LocalDate.now(this.clock).toString(), "channel", "phone", "outcome", outcome));
		if (outcome.equals("reached")) {
			form.put("lumpsPresent", "false");
		}
		var request = this.pages.post()
			.uri("/sessions/" + this.askedAfter + "/contacts/new")
			.with(csrf())
			.with(this.staff.as(Role.FRONT_DESK));
		form.forEach(request::param);
		var result = request.exchange();
		assertThat(result).hasStatus(HttpStatus.FOUND);
		return result;
	}

	@Test
	void isTheFirstPageOfTheDesk() {
		assertThat(this.pages.get().uri("/").with(this.staff.as(Role.FRONT_DESK)).exchange())
			.hasRedirectedUrl("/today");
		assertThat(this.pages.get().uri("/today").with(this.staff.as(Role.ADMINISTRATOR)).exchange())
			.hasStatus(HttpStatus.FORBIDDEN);
	}

	@Test
	void saysWhatToDoInTheOrderInWhichToDoIt() {
		// booked on hold; on hold since today; asked today; the outcome at the end
		assertThat(order("/today")).containsExactly("T-2", "T-1", "T-2", "T-3");
		assertThat(list("/today", Role.FRONT_DESK))
			.contains("All 4", "Contacts 1", "Booked against the advice 1", "For the practitioner 1",
					"Outcome visits 1", "To book 0", "Session 1, day 1: first anything alarming",
					"/sessions/" + this.askedAfter + "/contacts/new", "booked for Mon 30 Nov 2026, 12:00",
					"since Thu 19 Nov 2026")
			.doesNotContain("??");
		assertThat(order("/today?kind=outcome")).containsExactly("T-3");
	}

	@Test
	void showsTheDeskNoFindingAndNoReason() {
		assertThat(page("/today", Role.FRONT_DESK)).contains("treatment is on hold", "Book a review")
			.doesNotContain("burn", "Burn", "open finding", "/series/");
		assertThat(page("/today", Role.PRACTITIONER)).contains("/series/", "Decide");
	}

	@Test
	void filtersByPractitioner() {
		var other = this.database.sql("insert into staff (name) values ('b.ash') returning id")
			.query(UUID.class)
			.single();
		assertThat(order("/today?practitioner=" + other)).isEmpty();
		this.database
			.sql("update session set practitioner_id = :other, version = version + 1 where patient_id = :patient")
			.param("other", other)
			.param("patient", this.asked.patient().value())
			.update();
		assertThat(order("/today?practitioner=" + other)).containsExactly("T-1");
		assertThat(list("/today?practitioner=" + other, Role.FRONT_DESK)).contains("All 1");
	}

	@Test
	void losesWhatWasDoneAndSaysWhoDidItWhen() {
		contact("reached");
		assertThat(order("/today?kind=contact")).isEmpty();
		assertThat(handled()).contains("Lindqvist, Orsolya", "Contact: Reached", "front_desk", "09:00");
	}

	@Test
	void comesBackOnTheNextWorkingDayAndGoesToThePractitionerAfterTheThird() {
		contact("no_answer");
		assertThat(order("/today?kind=contact")).isEmpty();
		// nobody works at the weekend, and on Monday the clinic is closed
		this.hours.close(null, LocalDate.of(2026, 11, 23), LocalDate.of(2026, 11, 23), "Public holiday");
		this.clock.advance(Duration.ofDays(3));
		assertThat(order("/today?kind=contact")).isEmpty();
		this.clock.advance(Duration.ofDays(1));
		assertThat(list("/today?kind=contact", Role.FRONT_DESK)).contains("T-1", "not reached on 1 day",
				"since Tue 24 Nov 2026");
		contact("no_answer");
		this.clock.advance(Duration.ofDays(3));
		contact("no_answer");
		assertThat(order("/today?kind=contact")).isEmpty();
		assertThat(list("/today?kind=practitioner", Role.FRONT_DESK)).contains("T-1", "Not reached on 3 days");
	}

	@Test
	void bookedOnHoldLeavesWhenItIsCancelledAndAReviewIsNoProblem() {
		var appointment = this.database.sql("select id from appointment").query(UUID.class).single();
		var request = this.pages.post()
			.uri("/appointments/" + appointment + "/cancel")
			.with(csrf())
			.with(this.staff.as(Role.FRONT_DESK));
		Map.of("version", "0", "reason", "on hold").forEach(request::param);
		assertThat(request.exchange()).hasStatus(HttpStatus.FOUND);
		assertThat(order("/today?kind=unsupported")).isEmpty();
		assertThat(handled()).contains("Okafor, Tamsin", "Appointment: Cancelled");
	}

	@Test
	void asksForTheOutcomeUntilItIsBookedAndForNothingElseOfAnEndedSeries() {
		this.database.sql("""
				insert into appointment (patient_id, practitioner_id, starts_at, ends_at, starts_offset_minutes,
					ends_offset_minutes, purpose, status)
				select :patient, id, '2026-10-01T10:00Z', '2026-10-01T11:00Z', 0, 0, 'review', 'no_show' from staff
				where name = 'r.vale'""").param("patient", this.ended.patient().value()).update();
		assertThat(order("/today?kind=missed")).isEmpty();
		assertThat(order("/today?kind=outcome")).containsExactly("T-3");
		assertThat(page("/patients/" + this.ended.patient() + "/appointments/new?purpose=outcome", Role.FRONT_DESK))
			.contains("Mon 23 Nov 2026, 09:00, with r.vale");
		this.database.sql("""
				insert into appointment (patient_id, practitioner_id, starts_at, ends_at, starts_offset_minutes,
					ends_offset_minutes, purpose, status)
				select :patient, id, '2026-12-01T10:00Z', '2026-12-01T11:00Z', 0, 0, 'outcome', 'booked' from staff
				where name = 'r.vale'""").param("patient", this.ended.patient().value()).update();
		assertThat(order("/today?kind=outcome")).isEmpty();
	}

	@Test
	void answersAPageBeyondTheEndAndAKindThatIsNone() {
		assertThat(order("/today?page=99")).hasSize(4);
		assertThat(this.pages.get().uri("/today?kind=gossip").with(this.staff.as(Role.FRONT_DESK)).exchange())
			.hasStatus(HttpStatus.BAD_REQUEST);
	}

}
