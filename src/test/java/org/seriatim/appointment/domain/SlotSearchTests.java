package org.seriatim.appointment.domain;

import java.time.DayOfWeek;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.appointment.domain.SlotSearch.Wanted;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Expected times were worked out by hand. In the zone of the tests the clocks go forward
 * on 2027-03-28 at 02:00 (01:00 UTC) and back on 2026-10-25 at 03:00 (01:00 UTC).
 */
class SlotSearchTests {

	private static final ZoneId CLINIC = ZoneId.of("Europe/Berlin");

	private static final StaffMember VALE = new StaffMember(new StaffId(new UUID(0, 1)), "r.vale");

	private static final StaffMember ASH = new StaffMember(new StaffId(new UUID(0, 2)), "b.ash");

	private static final LocalDate ALWAYS = LocalDate.of(2020, 1, 1);

	private static final LocalDate MONDAY = LocalDate.of(2026, 11, 23);

	private static WorkingHours hours(StaffMember who, DayOfWeek day, String from, String until) {
		return new WorkingHours(UUID.randomUUID(), who.id(), day, LocalTime.parse(from), LocalTime.parse(until), ALWAYS,
				null, 0);
	}

	private static ClosedDays closed(StaffMember who, LocalDate first, LocalDate last) {
		return new ClosedDays(UUID.randomUUID(), (who != null) ? who.id() : null, first, last, "closed", 0);
	}

	private static List<String> search(LocalDate first, LocalDate target, LocalDate last, int minutes,
			List<WorkingHours> hours, List<ClosedDays> closed, Map<StaffId, List<Span>> busy) {
		return SlotSearch
			.search(new Wanted(first, target, last, Duration.ofMinutes(minutes), Instant.EPOCH, 1000),
					List.of(VALE, ASH), new Openings(hours, closed, CLINIC), busy)
			.stream()
			.map((free) -> free.time().start() + " " + free.practitioner().name())
			.toList();
	}

	private static List<String> ofVale(LocalDate day, int minutes, WorkingHours hours, List<Span> busy) {
		return search(day, day, day, minutes, List.of(hours), List.of(), Map.of(VALE.id(), busy)).stream()
			.map((found) -> found.substring(11, 16))
			.toList();
	}

	private static Span at(LocalDate day, String from, String until) {
		return new Span(day.atTime(LocalTime.parse(from)).atZone(CLINIC).toInstant(),
				day.atTime(LocalTime.parse(until)).atZone(CLINIC).toInstant());
	}

	@Test
	void putsVisitsBackToBack() {
		// free: 09:40 to 10:30 and 11:00 to 12:00 by the clinic's clocks, an hour ahead
		// of
		// UTC
		assertThat(ofVale(MONDAY, 45, hours(VALE, DayOfWeek.MONDAY, "09:00", "12:00"),
				List.of(at(MONDAY, "10:30", "11:00"), at(MONDAY, "09:00", "09:40"))))
			.containsExactly("08:40", "10:00", "10:15");
	}

	@Test
	void fitsAVisitThatTakesTheWholeTime() {
		var hours = hours(VALE, DayOfWeek.MONDAY, "09:00", "10:00");
		assertThat(ofVale(MONDAY, 60, hours, List.of())).containsExactly("08:00");
		assertThat(ofVale(MONDAY, 65, hours, List.of())).isEmpty();
		assertThat(ofVale(MONDAY, 60, hours, List.of(at(MONDAY, "08:00", "09:00"), at(MONDAY, "10:00", "11:00"))))
			.as("what touches does not overlap")
			.containsExactly("08:00");
	}

	@Test
	void beginsOnAWholeFiveMinutes() {
		assertThat(ofVale(MONDAY, 30, hours(VALE, DayOfWeek.MONDAY, "09:00", "10:00"),
				List.of(at(MONDAY, "09:00", "09:07"))))
			.containsExactly("08:10", "08:25");
	}

	@Test
	void losesAnHourWhenTheClocksGoForward() {
		// 01:00 to 04:00 by the clocks are the two hours from 00:00 to 02:00 UTC
		assertThat(ofVale(LocalDate.of(2027, 3, 28), 30, hours(VALE, DayOfWeek.SUNDAY, "01:00", "04:00"), List.of()))
			.containsExactly("00:00", "00:15", "00:30", "00:45", "01:00", "01:15", "01:30");
	}

	@Test
	void winsAnHourWhenTheClocksGoBack() {
		// 01:00 to 04:00 by the clocks are the four hours from 23:00 to 03:00 UTC
		assertThat(ofVale(LocalDate.of(2026, 10, 25), 60, hours(VALE, DayOfWeek.SUNDAY, "01:00", "04:00"), List.of()))
			.containsExactly("23:00", "23:15", "23:30", "23:45", "00:00", "00:15", "00:30", "00:45", "01:00", "01:15",
					"01:30", "01:45", "02:00");
	}

	@Test
	void hasNoHoursInTheHourThatIsSkipped() {
		assertThat(ofVale(LocalDate.of(2027, 3, 28), 15, hours(VALE, DayOfWeek.SUNDAY, "02:30", "03:00"), List.of()))
			.isEmpty();
	}

	/** RFC 5545, section 3.3.5: by the offset before the gap; the first of two. */
	@ParameterizedTest
	@CsvSource({ "2027-03-28T01:59, 2027-03-28T00:59:00Z, NONE", "2027-03-28T02:00, 2027-03-28T01:00:00Z, SKIPPED",
			"2027-03-28T02:30, 2027-03-28T01:30:00Z, SKIPPED", "2027-03-28T03:00, 2027-03-28T01:00:00Z, NONE",
			"2026-10-25T01:59, 2026-10-24T23:59:00Z, NONE", "2026-10-25T02:30, 2026-10-25T00:30:00Z, TWICE",
			"2026-10-25T03:00, 2026-10-25T02:00:00Z, NONE" })
	void readsATimeAroundAChangeOfTheClocks(LocalDateTime shown, Instant moment, ClockTime.Change change) {
		assertThat(ClockTime.of(shown, CLINIC)).isEqualTo(new ClockTime(moment, change));
	}

	@Test
	void proposesWhatIsNearestToTheTargetFirst() {
		var every = List.of(DayOfWeek.values()).stream().map((day) -> hours(VALE, day, "09:00", "09:30")).toList();
		assertThat(search(MONDAY, MONDAY.plusDays(2), MONDAY.plusDays(4), 30, every, List.of(), Map.of()))
			.containsExactly("2026-11-25T08:00:00Z r.vale", "2026-11-24T08:00:00Z r.vale",
					"2026-11-26T08:00:00Z r.vale", "2026-11-23T08:00:00Z r.vale", "2026-11-27T08:00:00Z r.vale");
	}

	@Test
	void asksAllPractitionersAndKnowsWhoIsAwayAndWhenTheClinicIsClosed() {
		var hours = List.of(hours(VALE, DayOfWeek.MONDAY, "09:00", "09:30"),
				hours(ASH, DayOfWeek.MONDAY, "09:00", "09:30"), hours(VALE, DayOfWeek.TUESDAY, "09:00", "09:30"),
				hours(ASH, DayOfWeek.TUESDAY, "09:00", "09:30"));
		var tuesday = MONDAY.plusDays(1);
		assertThat(search(MONDAY, MONDAY, tuesday, 30, hours, List.of(), Map.of())).containsExactly(
				"2026-11-23T08:00:00Z b.ash", "2026-11-23T08:00:00Z r.vale", "2026-11-24T08:00:00Z b.ash",
				"2026-11-24T08:00:00Z r.vale");
		assertThat(search(MONDAY, MONDAY, tuesday, 30, hours, List.of(closed(VALE, MONDAY, MONDAY)), Map.of()))
			.containsExactly("2026-11-23T08:00:00Z b.ash", "2026-11-24T08:00:00Z b.ash", "2026-11-24T08:00:00Z r.vale");
		assertThat(search(MONDAY, MONDAY, tuesday, 30, hours,
				List.of(closed(null, MONDAY.minusDays(3), MONDAY), closed(ASH, tuesday, tuesday)), Map.of()))
			.containsExactly("2026-11-24T08:00:00Z r.vale");
	}

	@Test
	void keepsToTheDaysOnWhichHoursHold() {
		var ended = new WorkingHours(UUID.randomUUID(), VALE.id(), DayOfWeek.MONDAY, LocalTime.of(9, 0),
				LocalTime.of(9, 30), MONDAY, MONDAY.plusWeeks(1), 0);
		assertThat(search(MONDAY.minusWeeks(1), MONDAY, MONDAY.plusWeeks(3), 30, List.of(ended), List.of(), Map.of()))
			.containsExactly("2026-11-23T08:00:00Z r.vale", "2026-11-30T08:00:00Z r.vale");
	}

	@Test
	void joinsHoursThatTouch() {
		var halves = List.of(hours(VALE, DayOfWeek.MONDAY, "09:00", "09:30"),
				hours(VALE, DayOfWeek.MONDAY, "09:30", "10:00"));
		assertThat(search(MONDAY, MONDAY, MONDAY, 60, halves, List.of(), Map.of()))
			.containsExactly("2026-11-23T08:00:00Z r.vale");
	}

}
