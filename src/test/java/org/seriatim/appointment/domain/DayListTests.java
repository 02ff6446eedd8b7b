package org.seriatim.appointment.domain;

import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeSet;
import java.util.UUID;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.access.StaffDirectory;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.CurrentAdvice;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.support.DatabaseTest;
import org.seriatim.support.TestClock;
import org.seriatim.treatment.SeriesId;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Compares the list of the day with what one finds by going through the records patient
 * by patient, over random histories around both changes of the clocks and a closure. The
 * profile {@code proof} takes 5,000 patients.
 */
@DatabaseTest
class DayListTests {

	private static final int PATIENTS = Integer.getInteger("day-list.patients", 150);

	private static final ZoneId CLINIC = ZoneId.of("Europe/Berlin");

	@Autowired
	private JdbcClient database;

	@Autowired
	private ApplicationEventPublisher events;

	@Autowired
	private CurrentAdvice advice;

	@Autowired
	private KeepHours hours;

	@Autowired
	private StaffDirectory staff;

	@Autowired
	private TestClock clock;

	/** A patient as the test knows it, apart from the tables. */
	private static final class Known {

		private PatientId patient;

		private UUID practitioner;

		private final List<Course> series = new ArrayList<>();

		private final List<Treated> sessions = new ArrayList<>();

		private final List<Asked> contacts = new ArrayList<>();

		private final List<LocalDate> assessed = new ArrayList<>();

		private final List<Booked> appointments = new ArrayList<>();

		/** Days of observations of lumps, by the session that they belong to. */
		private final List<Seen> lumps = new ArrayList<>();

		private boolean held;

		private @Nullable Instant decided;

	}

	private record Course(SeriesId id, boolean open) {
	}

	private record Treated(UUID id, SeriesId series, LocalDate on) {
	}

	private record Asked(UUID session, LocalDate on, String outcome, Instant recorded) {
	}

	private record Seen(UUID session, LocalDate on) {
	}

	private record Booked(Instant starts, String purpose, String status, boolean allowed) {
	}

	@ParameterizedTest
	@CsvSource({ "2026-10-24, 1", "2027-03-27, 2" })
	void holdsWhatTheRecordsSayAndNothingElse(LocalDate saturday, long seed) {
		var random = RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
		// the records end on the Thursday before; the clinic is closed on the Monday
		var written = saturday.minusDays(2);
		this.clock.setTo(written.atTime(18, 0).atZone(CLINIC).toInstant());
		var vale = this.staff.named(List.of("r.vale")).get("r.vale");
		for (var weekday : List.of(DayOfWeek.MONDAY, DayOfWeek.TUESDAY, DayOfWeek.THURSDAY, DayOfWeek.FRIDAY)) {
			this.hours.enter(vale, weekday, LocalTime.of(9, 0), LocalTime.of(17, 0), LocalDate.of(2020, 1, 1));
		}
		this.hours.close(null, saturday.plusDays(2), saturday.plusDays(2), "closed");
		var patients = new ArrayList<Known>();
		for (int number = 0; number < PATIENTS; number++) {
			patients.add(live(number, written, random));
		}
		nobody(written);
		var found = 0;
		for (int day = 0; day <= 4; day++) {
			var today = saturday.plusDays(day);
			this.clock.setTo(today.atTime(LocalTime.of(0, 5)).atZone(CLINIC).toInstant());
			var clinic = this.clock.withZone(CLINIC);
			var list = new DayList(this.database, new Diary(this.database, this.hours, this.staff, clinic), clinic)
				.today();
			assertThat(list.stream().map(DayListTests::line).sorted().toList()).as("%s", today)
				.isEqualTo(patients.stream().flatMap((known) -> expected(known, today).stream()).sorted().toList());
			assertThat(list).isSortedAccordingTo(DayItem.ORDER);
			found += list.size();
			if (PATIENTS >= 150 && day == 3) {
				assertThat(list.stream().map(DayItem::kind).distinct()).as("kinds that the histories bring up")
					.containsExactlyInAnyOrder(DayKind.values());
			}
		}
		assertThat(found).isPositive();
	}

	private static String line(DayItem item) {
		return item.kind() + " " + item.detail() + " " + item.due() + " " + item.patient();
	}

	private List<String> expected(Known known, LocalDate today) {
		var lines = new ArrayList<String>();
		var open = known.series.stream().filter(Course::open).findFirst();
		var standing = open.flatMap((course) -> this.advice.of(course.id()));
		var booked = known.appointments.stream()
			.filter((one) -> one.purpose().equals("treatment") && !day(one).isBefore(today))
			.toList();
		for (var one : booked) {
			if (List.of("booked", "arrived").contains(one.status())) {
				problem(known, standing, one)
					.ifPresent((detail) -> add(lines, "UNSUPPORTED " + detail, day(one), known));
			}
		}
		var missed = missed(known, open.isPresent(), today, lines);
		if (standing.isPresent()) {
			var advised = standing.get();
			contact(known, advised, today, lines);
			var status = advised.advice().status();
			var since = LocalDate.ofInstant(advised.computedAt(), CLINIC);
			if (status == AdviceStatus.HOLD) {
				add(lines, "PRACTITIONER ON_HOLD", since, known);
			}
			if (status == AdviceStatus.REVIEW_PLAN && advised.decision().isEmpty()) {
				add(lines, "PRACTITIONER REVIEW_PLAN", since, known);
			}
			var settled = booked.stream()
				.anyMatch((one) -> List.of("booked", "arrived", "completed").contains(one.status()));
			if (status != AdviceStatus.HOLD && !settled && !missed) {
				var last = Objects.requireNonNull(advised.last());
				if (today.isAfter(last)) {
					add(lines, "OVERDUE WINDOW_PASSED", last, known);
				}
				else if (status == AdviceStatus.WINDOW || advised.isOverridden()) {
					add(lines, "BOOKING "
							+ (today.isBefore(Objects.requireNonNull(advised.first())) ? "BEFORE_WINDOW" : "IN_WINDOW"),
							last, known);
				}
			}
		}
		outcome(known, open.isPresent(), today, lines);
		return lines;
	}

	private static Optional<String> problem(Known known, Optional<StandingAdvice> standing, Booked one) {
		if (known.held) {
			return Optional.of("ON_HOLD");
		}
		if (standing.isEmpty() || standing.get().first() == null || one.allowed()) {
			return Optional.empty();
		}
		if (day(one).isBefore(standing.get().first())) {
			return Optional.of("TOO_EARLY");
		}
		return day(one).isAfter(standing.get().last()) ? Optional.of("TOO_LATE") : Optional.empty();
	}

	/** Whether a missed treatment is to be booked again. */
	private static boolean missed(Known known, boolean open, LocalDate today, List<String> lines) {
		if (!open && !known.series.isEmpty()) {
			return false;
		}
		var treatment = false;
		for (var purpose : List.of("treatment", "review", "assessment", "outcome")) {
			var last = known.appointments.stream()
				.filter((one) -> one.purpose().equals(purpose) && !one.status().equals("cancelled"))
				.max(Comparator.comparing(Booked::starts));
			if (last.isEmpty() || purpose.equals("treatment") && known.held) {
				continue;
			}
			var one = last.get();
			var came = one.status().equals("no_show") ? "DID_NOT_COME"
					: (one.status().equals("booked") && day(one).isBefore(today)) ? "NOT_NOTED" : null;
			var seen = known.sessions.stream().anyMatch((session) -> !session.on().isBefore(day(one)))
					|| known.appointments.stream()
						.anyMatch((other) -> other.starts().isAfter(one.starts())
								&& List.of("arrived", "completed").contains(other.status()));
			if (came != null && !seen) {
				add(lines, "MISSED " + came, day(one), known);
				treatment = treatment || purpose.equals("treatment");
			}
		}
		return treatment;
	}

	private void contact(Known known, StandingAdvice standing, LocalDate today, List<String> lines) {
		var next = standing.advice().nextContact();
		if (next == null) {
			return;
		}
		var session = standing.advice().session().value();
		var treated = standing.advice().treatedOn();
		var answered = new TreeSet<LocalDate>();
		known.lumps.stream().filter((seen) -> seen.session().equals(session)).map(Seen::on).forEach(answered::add);
		known.assessed.stream().filter((on) -> on.isAfter(treated)).forEach(answered::add);
		var asked = known.contacts.stream().filter((one) -> one.session().equals(session)).toList();
		asked.stream().filter((one) -> !one.outcome().equals("no_answer")).map(Asked::on).forEach(answered::add);
		var attempts = asked.stream()
			.filter((one) -> one.outcome().equals("no_answer")
					&& (answered.isEmpty() || one.on().isAfter(answered.last())))
			.toList();
		var days = new TreeSet<>(attempts.stream().map(Asked::on).toList());
		if (days.size() >= 3) {
			var recorded = attempts.stream().map(Asked::recorded).max(Comparator.naturalOrder()).orElseThrow();
			if (known.decided == null || !known.decided.isAfter(recorded)) {
				add(lines, "PRACTITIONER THREE_ATTEMPTS", days.last(), known);
				return;
			}
		}
		else if (!days.isEmpty()) {
			var again = days.last().plusDays(1);
			while (again.getDayOfWeek() == DayOfWeek.WEDNESDAY || again.getDayOfWeek() == DayOfWeek.SATURDAY
					|| again.getDayOfWeek() == DayOfWeek.SUNDAY || isClosed(again)) {
				again = again.plusDays(1);
			}
			if (!again.isAfter(today)) {
				add(lines, "CONTACT NOT_REACHED", again, known);
			}
			return;
		}
		if (!next.isAfter(today)) {
			add(lines, "CONTACT PLANNED", next, known);
		}
	}

	private static boolean isClosed(LocalDate day) {
		return day.equals(LocalDate.of(2026, 10, 26)) || day.equals(LocalDate.of(2027, 3, 29));
	}

	private static void outcome(Known known, boolean open, LocalDate today, List<String> lines) {
		if (open || known.sessions.isEmpty()) {
			return;
		}
		var due = known.sessions.get(known.sessions.size() - 1).on().plusDays(84);
		var looked = known.assessed.stream().anyMatch((on) -> !on.isBefore(due));
		var booked = known.appointments.stream()
			.filter((one) -> List.of("outcome", "assessment").contains(one.purpose()))
			.anyMatch((one) -> List.of("booked", "arrived").contains(one.status()) && !day(one).isBefore(today)
					|| List.of("arrived", "completed").contains(one.status()) && !day(one).isBefore(due));
		if (!today.isBefore(due) && !looked && !booked) {
			add(lines, "OUTCOME AFTER_SERIES", due, known);
		}
	}

	private static void add(List<String> lines, String what, LocalDate due, Known known) {
		lines.add(what + " " + due + " " + known.patient);
	}

	private static LocalDate day(Booked one) {
		return LocalDate.ofInstant(one.starts(), CLINIC);
	}

	private Known live(int number, LocalDate written, RandomGenerator random) {
		var known = new Known();
		known.practitioner = this.database.sql("insert into staff (name) values (:name) returning id")
			.param("name", "p." + number)
			.query(UUID.class)
			.single();
		known.patient = new PatientId(
				this.database.sql("insert into patient (record_number) values (:number) returning id")
					.param("number", "R-" + number)
					.query(UUID.class)
					.single());
		treat(known, written, random);
		ask(known, written, random);
		see(known, written, random);
		book(known, written, random);
		changed(known);
		decide(known, written, random);
		return known;
	}

	private void treat(Known known, LocalDate written, RandomGenerator random) {
		var day = written.minusDays(random.nextInt(1, 260));
		var number = 0;
		for (int series = 1; series <= random.nextInt(3); series++) {
			var sessions = random.nextInt(4);
			var treated = new ArrayList<LocalDate>();
			for (int session = 0; session < sessions && !day.isAfter(written); session++) {
				treated.add(day);
				day = day.plusDays(random.nextInt(35, 70));
			}
			// a series before another one has ended
			var open = series == 2 && known.series.stream().noneMatch(Course::open) && random.nextInt(4) > 0
					|| series == 1 && random.nextInt(2) > 0;
			if (series == 2 && known.series.get(0).open()) {
				return;
			}
			var id = new SeriesId(this.database.sql("""
					insert into series (patient_id, number, status, ended_on, protocol_version)
					values (:patient, :number, :status, cast(:ended as date), 1) returning id""")
				.param("patient", known.patient.value())
				.param("number", series)
				.param("status", open ? "open" : "completed")
				.param("ended", open ? null : written)
				.query(UUID.class)
				.single());
			known.series.add(new Course(id, open));
			for (var on : treated) {
				number++;
				var session = this.database.sql("""
						insert into session (patient_id, series_id, number, treated_on, practitioner_id)
						values (:patient, :series, :number, :on, :practitioner) returning id""")
					.param("patient", known.patient.value())
					.param("series", id.value())
					.param("number", number)
					.param("on", on)
					.param("practitioner", known.practitioner)
					.query(UUID.class)
					.single();
				known.sessions.add(new Treated(session, id, on));
			}
		}
	}

	private void ask(Known known, LocalDate written, RandomGenerator random) {
		for (var session : known.sessions) {
			var on = session.on().plusDays(random.nextInt(1, 5));
			var mostly = List.of("reached", "no_answer", "no_answer", "declined").get(random.nextInt(4));
			for (int contact = 0; contact < random.nextInt(6) && !on.isAfter(written); contact++) {
				ask(known, session, on, random.nextInt(3) > 0 ? mostly : "reached", random);
				on = on.plusDays(random.nextInt(1, 9));
			}
			// the last days before the closure
			if (random.nextInt(3) == 0) {
				for (int back = 2; back >= 0; back--) {
					var late = written.minusDays(back);
					if (late.isAfter(session.on()) && random.nextBoolean()
							&& known.contacts.stream().noneMatch((one) -> one.on().equals(late))) {
						ask(known, session, late, "no_answer", random);
					}
				}
			}
		}
	}

	private void ask(Known known, Treated session, LocalDate on, String outcome, RandomGenerator random) {
		var recorded = on.atTime(random.nextInt(8, 18), 0).atZone(CLINIC).toInstant();
		this.database.sql("""
				insert into contact (patient_id, session_id, contacted_on, channel, outcome, lumps_present, recorded_at)
				values (:patient, :session, :on, 'phone', :outcome, cast(:lumps as boolean), :recorded)""")
			.param("patient", known.patient.value())
			.param("session", session.id())
			.param("on", on)
			.param("outcome", outcome)
			.param("lumps", outcome.equals("reached") ? random.nextInt(4) == 0 : null)
			.param("recorded", recorded.atOffset(ZoneOffset.UTC))
			.update();
		known.contacts.add(new Asked(session.id(), on, outcome, recorded));
	}

	private void see(Known known, LocalDate written, RandomGenerator random) {
		for (var session : known.sessions) {
			if (random.nextInt(3) == 0 && session.on().plusDays(2).isBefore(written)) {
				var finding = finding(known, session.id(), "lump", session.on().plusDays(2), random);
				for (var on : List.of(session.on().plusDays(10), session.on().plusDays(20))) {
					if (!on.isAfter(written) && random.nextBoolean()) {
						this.database.sql("""
								insert into finding_observation (finding_id, observed_on, reporter, channel, present)
								values (:finding, :on, 'practitioner', 'visit', :present)""")
							.param("finding", finding)
							.param("on", on)
							.param("present", random.nextInt(3) == 0)
							.update();
						known.lumps.add(new Seen(session.id(), on));
					}
				}
			}
			var on = session.on().plusDays(random.nextInt(120));
			if (random.nextInt(3) == 0 && !on.isAfter(written)) {
				this.database.sql("""
						insert into pore_assessment (patient_id, region, assessed_on, assessor_id, grade)
						values (:patient, 'nose', :on, :assessor, 2) on conflict do nothing""")
					.param("patient", known.patient.value())
					.param("on", on)
					.param("assessor", known.practitioner)
					.update();
				known.assessed.add(on);
			}
		}
		if (random.nextInt(8) == 0) {
			finding(known, null, "burn", written.minusDays(1), random);
			known.held = true;
		}
	}

	private UUID finding(Known known, @Nullable UUID session, String kind, LocalDate on, RandomGenerator random) {
		return this.database.sql("""
				insert into finding (code, patient_id, session_id, kind, region, first_noted_on, grade, serious)
				values (:code, :patient, cast(:session as uuid), :kind, 'nose', :on, 1, false) returning id""")
			.param("code", Long.toHexString(random.nextLong()))
			.param("patient", known.patient.value())
			.param("session", (session != null) ? session.toString() : null)
			.param("kind", kind)
			.param("on", on)
			.query(UUID.class)
			.single();
	}

	/** Around the days of the test, also just before and after midnight of the clinic. */
	private void book(Known known, LocalDate written, RandomGenerator random) {
		var day = written.minusDays(random.nextInt(25));
		for (int one = 0; one < random.nextInt(4); one++) {
			var time = List.of(LocalTime.of(0, 30), LocalTime.of(1, 30), LocalTime.of(10, 0), LocalTime.of(23, 30))
				.get(random.nextInt(4));
			var starts = day.atTime(time).atZone(CLINIC).toInstant();
			var purpose = List.of("treatment", "treatment", "review", "assessment", "outcome").get(random.nextInt(5));
			var past = !day.isAfter(written);
			var status = past ? List.of("booked", "completed", "cancelled", "no_show", "arrived").get(random.nextInt(5))
					: List.of("booked", "booked", "cancelled").get(random.nextInt(3));
			this.database.sql("""
					insert into appointment (patient_id, practitioner_id, starts_at, ends_at, starts_offset_minutes,
						ends_offset_minutes, purpose, status)
					values (:patient, :practitioner, :starts, :ends, 0, 0, :purpose, :status)""")
				.param("patient", known.patient.value())
				.param("practitioner", known.practitioner)
				.param("starts", at(starts))
				.param("ends", at(starts.plusSeconds(1800)))
				.param("purpose", purpose)
				.param("status", status)
				.update();
			known.appointments.add(new Booked(starts, purpose, status, false));
			day = day.plusDays(random.nextInt(1, 20));
		}
	}

	private void changed(Known known) {
		this.events.publishEvent(new PatientRecordChanged(known.patient));
	}

	/** What practitioners make of the advice, also before it changes once more. */
	private void decide(Known known, LocalDate written, RandomGenerator random) {
		var open = known.series.stream().filter(Course::open).findFirst();
		var standing = open.flatMap((course) -> this.advice.of(course.id()));
		if (standing.isPresent() && random.nextInt(3) == 0 && standing.get().advice().status() != AdviceStatus.HOLD) {
			var accepted = random.nextBoolean();
			var at = written.minusDays(random.nextInt(6)).atTime(19, 0).atZone(CLINIC).toInstant();
			var first = standing.get().advice().treatedOn().plusDays(random.nextInt(30, 90));
			this.database
				.sql("""
						insert into advice_decision (advice_id, decided_at, decided_by, accepted, reason, first_day, last_day)
						values (:advice, :at, :by, :accepted, 'so', cast(:first as date), cast(:last as date))""")
				.param("advice", standing.get().id().value())
				.param("at", at(at))
				.param("by", known.practitioner)
				.param("accepted", accepted)
				.param("first", accepted ? null : first)
				.param("last", accepted ? null : first.plusDays(10))
				.update();
			known.decided = at;
			if (random.nextInt(3) == 0) {
				var session = known.sessions.get(known.sessions.size() - 1);
				var on = session.on().plusDays(33);
				if (!on.isAfter(written) && known.contacts.stream().noneMatch((one) -> one.on().equals(on))) {
					ask(known, session, on, "reached", random);
					changed(known);
				}
			}
		}
		allow(known, open.flatMap((course) -> this.advice.of(course.id())), random);
	}

	/** Some were booked outside the window with a practitioner's reason. */
	private void allow(Known known, Optional<StandingAdvice> standing, RandomGenerator random) {
		if (standing.isEmpty() || standing.get().first() == null) {
			return;
		}
		known.appointments.replaceAll((one) -> {
			if (!one.purpose().equals("treatment") || random.nextInt(3) > 0) {
				return one;
			}
			var same = random.nextBoolean();
			this.database.sql("""
					update appointment set exceptions = '{before_window,after_window}', exception_reason = 'so',
						window_first = :first, window_last = :last, version = version + 1
					where patient_id = :patient and starts_at = :starts""")
				.param("first",
						same ? standing.get().first() : Objects.requireNonNull(standing.get().first()).minusDays(1))
				.param("last", standing.get().last())
				.param("patient", known.patient.value())
				.param("starts", at(one.starts()))
				.update();
			return new Booked(one.starts(), one.purpose(), one.status(), same);
		});
	}

	/** What an erasure leaves is nobody to be called. */
	private void nobody(LocalDate written) {
		this.database.sql("""
				with nobody as (insert into patient (record_number) values ('E-0123456789AB') returning id),
					course as (insert into series (patient_id, number, status, ended_on, protocol_version)
						select id, 1, 'stopped', :ended, 1 from nobody returning id, patient_id)
				insert into session (patient_id, series_id, number, treated_on, practitioner_id)
				select patient_id, course.id, 1, :on, staff.id from course, staff where staff.name = 'r.vale'""")
			.param("ended", written)
			.param("on", written.minusDays(200))
			.update();
	}

	private static OffsetDateTime at(Instant moment) {
		return moment.atOffset(ZoneOffset.UTC);
	}

}
