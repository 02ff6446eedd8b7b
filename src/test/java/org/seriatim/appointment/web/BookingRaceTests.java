package org.seriatim.appointment.web;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.random.RandomGeneratorFactory;

import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.core.userdetails.UserDetails;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import org.seriatim.access.Role;
import org.seriatim.access.StaffId;
import org.seriatim.appointment.domain.KeepHours;
import org.seriatim.followup.ARecord;
import org.seriatim.patient.PatientId;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.TestStaff;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

/**
 * Two desks send the same moment for the same practitioner at the same time, again and
 * again. The profile {@code proof} runs a thousand such races.
 */
@PageTest
class BookingRaceTests {

	private static final int RACES = Integer.getInteger("booking.races", 50);

	private static final LocalDate MONDAY = LocalDate.of(2026, 11, 23);

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private TestStaff staff;

	@Autowired
	private JdbcClient database;

	@Autowired
	private KeepHours hours;

	@Test
	void areWonByExactlyOneAndTheOtherIsToldWhatIsFreeNext() throws Exception {
		var patients = List.of(ARecord.of(this.database, "T-1").patient(), ARecord.of(this.database, "T-2").patient());
		var vale = new StaffId(
				this.database.sql("select id from staff where name = 'r.vale'").query(UUID.class).single());
		for (var day : DayOfWeek.values()) {
			this.hours.enter(vale, day, LocalTime.of(8, 0), LocalTime.of(18, 0), MONDAY);
		}
		var desks = List.of(this.staff.named("f.one", Role.FRONT_DESK), this.staff.named("f.two", Role.FRONT_DESK));
		var random = RandomGeneratorFactory.of("L64X128MixRandom").create(20261120);
		var threads = Executors.newFixedThreadPool(2);
		try {
			for (int race = 0; race < RACES; race++) {
				// the second desk's time may only overlap, and either may be the other's
				// patient
				var day = MONDAY.plusDays(race / 8);
				var start = LocalTime.of(8, 0).plusMinutes(race % 8 * 60L);
				var shift = random.nextInt(4) * 5;
				var start2 = start.plusMinutes(shift);
				var barrier = new CyclicBarrier(2);
				var answers = new ArrayList<Future<MvcTestResult>>();
				for (int desk = 0; desk < 2; desk++) {
					var who = desks.get(desk);
					var patient = patients.get(desk);
					var time = (desk == 0) ? start : start2;
					answers.add(threads.submit(() -> {
						barrier.await();
						return book(who, patient, vale, day, time);
					}));
				}
				var one = answers.get(0).get();
				var two = answers.get(1).get();
				assertThat(List.of(one.getResponse().getStatus(), two.getResponse().getStatus())).as("race %d", race)
					.containsExactlyInAnyOrder(HttpStatus.FOUND.value(), HttpStatus.CONFLICT.value());
				var lost = (one.getResponse().getStatus() == HttpStatus.CONFLICT.value()) ? one : two;
				assertThat(RefusedForm.messages(lost).get("visitTime")).as("race %d", race)
					.contains("Somebody else was booked for", "The next free time is");
			}
		}
		finally {
			threads.shutdownNow();
		}
		assertThat(this.database.sql("select count(*) from appointment").query(Long.class).single()).isEqualTo(RACES);
	}

	/**
	 * A red flag is raised while a treatment is booked: the booking is refused, or it
	 * stands on the list of the day as one that may not stay. None stays unseen.
	 */
	@Test
	void withAHoldLeaveNoTreatmentThatNobodySees() throws Exception {
		var desks = List.of(this.staff.named("f.one", Role.FRONT_DESK), this.staff.named("f.two", Role.FRONT_DESK));
		var random = RandomGeneratorFactory.of("L64X128MixRandom").create(20261121);
		var threads = Executors.newFixedThreadPool(2);
		try {
			for (int race = 0; race < RACES; race++) {
				var record = ARecord.of(this.database, "T-" + race);
				var vale = new StaffId(
						this.database.sql("select id from staff where name = 'r.vale'").query(UUID.class).single());
				var day = MONDAY.plusDays(race / 8);
				var time = LocalTime.of(8, 0).plusMinutes(race % 8 * 60L);
				var ahead = random.nextInt(2);
				var barrier = new CyclicBarrier(2);
				var raised = threads.submit(() -> {
					barrier.await();
					Thread.sleep(ahead * 3L);
					return this.pages.post()
						.uri("/patients/" + record.patient() + "/emergency")
						.with(csrf())
						.with(this.staff.as(desks.get(0)))
						.param("signs", "vision")
						.exchange();
				});
				var booked = threads.submit(() -> {
					barrier.await();
					return book(desks.get(1), record.patient(), vale, day, time, "treatment");
				});
				assertThat(raised.get().getResponse().getStatus()).as("race %d", race).isLessThan(400);
				var status = booked.get().getResponse().getStatus();
				assertThat(status).as("race %d", race)
					.isIn(HttpStatus.FOUND.value(), HttpStatus.UNPROCESSABLE_CONTENT.value());
				var list = this.pages.get()
					.uri("/today?kind=unsupported&page=" + (race / 50 + 1))
					.with(this.staff.as(desks.get(0)))
					.exchange();
				assertThat(list).hasStatusOk();
				if (status == HttpStatus.FOUND.value()) {
					assertThat(list).bodyText().contains("/patients/" + record.patient());
				}
			}
		}
		finally {
			threads.shutdownNow();
		}
	}

	private MvcTestResult book(UserDetails who, PatientId patient, StaffId practitioner, LocalDate day,
			LocalTime time) {
		return book(who, patient, practitioner, day, time, "review");
	}

	private MvcTestResult book(UserDetails who, PatientId patient, StaffId practitioner, LocalDate day, LocalTime time,
			String purpose) {
		var request = this.pages.post()
			.uri("/patients/" + patient + "/appointments/new")
			.with(csrf())
			.with(this.staff.as(who));
		Map.of("visitFor", purpose, "practitioner", practitioner.toString(), "visitDay", day.toString(), "visitTime",
				time.toString())
			.forEach(request::param);
		return request.exchange();
	}

}
