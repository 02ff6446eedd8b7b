package org.seriatim.followup.web;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.regex.Pattern;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import org.seriatim.access.Role;
import org.seriatim.followup.ARecord;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.Written;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestClock;
import org.seriatim.support.TestStaff;

import static org.assertj.core.api.Assertions.assertThat;

/** The clinic's day is 2026-11-20, day 80 of the records. */
@PageTest
class FollowUpPageTests {

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private TestStaff staff;

	@Autowired
	private JdbcClient database;

	@Autowired
	private ApplicationEventPublisher events;

	@Autowired
	private TestClock clock;

	private ARecord late;

	private ARecord held;

	private ARecord soon;

	@BeforeEach
	void openThreeSeries() {
		this.late = ARecord.of(this.database, "T-1", "Lindqvist", "Orsolya");
		var lateSession = this.late.session(this.late.openSeries(), 10);
		var lump = this.late.finding(lateSession, "lump", 10);
		this.late.observe(lump, 30, true);
		this.late.observe(lump, 37, false);

		this.held = ARecord.of(this.database, "T-2", "Okafor", "Tamsin");
		var heldSession = this.held.session(this.held.openSeries(), 60);
		this.held.finding(heldSession, "burn", 61);

		this.soon = ARecord.of(this.database, "T-3");
		this.soon.session(this.soon.openSeries(), 75);
		this.soon.book(100);

		for (var record : new ARecord[] { this.late, this.held, this.soon }) {
			changed(record);
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

	private static String written(int day) {
		return Written.weekday(ARecord.day(day));
	}

	@Test
	void showsTheDeskWhoComesBackWhenAndWhomToContact() {
		var page = page("/follow-up", Role.FRONT_DESK);

		assertThat(page).contains("Lindqvist, Orsolya", "T-1", written(10 + 56), written(10 + 56 + 14))
			.contains("T-3", "Contact first", written(75 + 42), written(75 + 1), "contact due")
			.contains(written(75 + 56) + " if a lump persisted")
			.doesNotContain("??", "null");
	}

	@Test
	void showsTheDeskAHoldWithoutItsReasonAndNoRules() {
		assertThat(page("/follow-up", Role.FRONT_DESK)).contains("Okafor, Tamsin", "On hold")
			.contains("/patients/" + this.held.patient())
			.doesNotContain("open finding", "lump lasted", "Burn", "/series/");
	}

	@Test
	void tellsWhoCaresForThePatientWhy() {
		assertThat(page("/follow-up", Role.PRACTITIONER)).contains("open finding", "lump lasted",
				"not known whether a lump lasted", "/series/");
	}

	@Test
	void marksAWindowThatHasPassed() {
		assertThat(page("/follow-up", Role.FRONT_DESK)).doesNotContain("overdue since");

		this.clock.advance(Duration.ofDays(1));

		assertThat(page("/follow-up", Role.FRONT_DESK))
			.contains("overdue since " + Written.day(ARecord.day(10 + 56 + 14)));
	}

	@Test
	void marksABookedTreatmentThatTheAdviceDoesNotSupport() {
		assertThat(page("/follow-up", Role.FRONT_DESK)).contains("before the first day")
			.doesNotContain("treatment is on hold", "after the last day");

		this.held.book(120);
		this.late.book(90);

		assertThat(page("/follow-up", Role.FRONT_DESK)).contains("treatment is on hold", "after the last day");
	}

	@Test
	void sortsByFirstAndLastDayWithHoldsAtTheEnd() {
		assertThat(order("/follow-up")).containsExactly("T-1", "T-3", "T-2");
		assertThat(order("/follow-up?sort=-first-day")).containsExactly("T-3", "T-1", "T-2");
		assertThat(order("/follow-up?sort=last-day")).containsExactly("T-1", "T-3", "T-2");
		assertThat(order("/follow-up?sort=-last-day")).containsExactly("T-3", "T-1", "T-2");
		assertThat(order("/follow-up?sort=status")).containsExactly("T-2", "T-3", "T-1");
		assertThat(order("/follow-up?sort=no-such-column")).containsExactly("T-1", "T-3", "T-2");
	}

	private List<String> order(String address) {
		return Pattern.compile(">(T-\\d)<")
			.matcher(page(address, Role.FRONT_DESK))
			.results()
			.map((found) -> found.group(1))
			.distinct()
			.toList();
	}

	@Test
	void showsThePractitionersOwnWindow() {
		this.database.sql("""
				insert into advice_decision (advice_id, decided_at, decided_by, accepted, reason, first_day, last_day)
				select advice.id, now(), staff.id, false, 'travels', :first, :last from advice, staff
				where advice.patient_id = :patient and replaced_at is null and staff.name = 'r.vale'""")
			.param("first", ARecord.day(88))
			.param("last", ARecord.day(95))
			.param("patient", this.late.patient().value())
			.update();

		assertThat(page("/follow-up", Role.FRONT_DESK))
			.contains(written(88), written(95), "window set by a practitioner")
			.doesNotContain(written(10 + 56), "travels");
	}

	@Test
	void saysWhatToDoWhenThereIsNothingToFollowUp() {
		this.database.sql("update series set status = 'stopped', ended_on = :day, version = version + 1")
			.param("day", ARecord.day(79))
			.update();
		changed(this.late);
		changed(this.held);
		changed(this.soon);

		assertThat(page("/follow-up", Role.FRONT_DESK)).contains("No open series has had a session yet")
			.doesNotContain("<table");
	}

	@Test
	void answersAPageBeyondTheEndWithTheLast() {
		assertThat(order("/follow-up?page=7")).hasSize(3);
	}

	@Test
	void givesTheAdviceOfADayAsCsv() {
		assertThat(csv("/follow-up/advice.csv", Role.CLINIC_LEAD)).containsExactly(
				"record_number,session_number,treated_on,status,rules,first_day,target_day,last_day,first_day_if_lump_persisted",
				"T-1,1,2026-09-11,WINDOW,persistent,2026-11-06,2026-11-06,2026-11-20,",
				"T-2,1,2026-10-31,HOLD,hold;unknown,,,,",
				"T-3,1,2026-11-15,WAIT_FOR_CONTACT,unknown,2026-12-27,2026-12-27,2027-01-10,2027-01-10");
	}

	@Test
	void countsNothingThatIsDatedLater() {
		assertThat(csv("/follow-up/advice.csv?on=2026-10-07", Role.CLINIC_LEAD)).containsExactly(
				"record_number,session_number,treated_on,status,rules,first_day,target_day,last_day,first_day_if_lump_persisted",
				"T-1,1,2026-09-11,WAIT_FOR_CONTACT,persistent;still_there,2026-11-06,2026-11-06,2026-11-20,");
	}

	@Test
	void givesTheDeskDaysWithoutRules() {
		assertThat(csv("/follow-up/advice.csv", Role.FRONT_DESK))
			.contains("T-1,1,2026-09-11,WINDOW,,2026-11-06,2026-11-06,2026-11-20,", "T-2,1,2026-10-31,HOLD,,,,,");
	}

	private List<String> csv(String address, Role role) {
		var result = this.pages.get().uri(address).with(this.staff.as(role)).exchange();
		assertThat(result).hasStatusOk().hasContentTypeCompatibleWith("text/csv");
		return new String(result.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8).lines().toList();
	}

	@Test
	void refusesADayThatIsNone() {
		assertThat(this.pages.get().uri("/follow-up/advice.csv?on=tomorrow").with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatus(HttpStatus.BAD_REQUEST);
	}

	@Test
	void isClosedToAdministratorsAndStrangers() {
		for (var address : List.of("/follow-up", "/follow-up/advice.csv")) {
			assertThat(this.pages.get().uri(address).with(this.staff.as(Role.ADMINISTRATOR)))
				.hasStatus(HttpStatus.FORBIDDEN);
			assertThat(this.pages.get().uri(address)).hasStatus(HttpStatus.FOUND);
		}
	}

}
