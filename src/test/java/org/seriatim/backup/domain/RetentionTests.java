package org.seriatim.backup.domain;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;

/** Worked out by hand on a calendar; 20 November 2026 is a Friday. */
class RetentionTests {

	@Test
	void keepsTheNewestOfEachOfTheLastDays() {
		assertThat(kept(new Retention(2, 0, 0), "2026-11-20T02:30:00Z", "2026-11-20T13:00:00Z", "2026-11-19T02:30:00Z",
				"2026-11-18T02:30:00Z"))
			.containsExactly("2026-11-20T13:00:00Z", "2026-11-19T02:30:00Z");
	}

	@Test
	void keepsTheNewestOfEachOfTheLastWeeksWhichBeginOnMonday() {
		// Sunday 15 ends week 46, Monday 16 begins week 47
		assertThat(kept(new Retention(1, 3, 0), "2026-11-20T02:30:00Z", "2026-11-16T02:30:00Z", "2026-11-15T02:30:00Z",
				"2026-11-14T02:30:00Z", "2026-11-08T02:30:00Z", "2026-11-01T02:30:00Z"))
			.containsExactly("2026-11-20T02:30:00Z", "2026-11-15T02:30:00Z", "2026-11-08T02:30:00Z");
	}

	@Test
	void keepsTheNewestOfEachOfTheLastMonths() {
		assertThat(kept(new Retention(1, 0, 3), "2027-01-02T02:30:00Z", "2027-01-01T02:30:00Z", "2026-12-31T02:30:00Z",
				"2026-12-30T02:30:00Z", "2026-11-30T02:30:00Z", "2026-10-31T02:30:00Z"))
			.containsExactly("2027-01-02T02:30:00Z", "2026-12-31T02:30:00Z", "2026-11-30T02:30:00Z");
	}

	@Test
	void theFirstDaysOfAYearBelongToTheLastWeekOfTheYearBefore() {
		// Thursday 31 December 2026 to Sunday 3 January 2027 are days of week 53 of 2026
		assertThat(kept(new Retention(1, 2, 0), "2027-01-04T02:30:00Z", "2027-01-03T02:30:00Z", "2026-12-31T02:30:00Z"))
			.containsExactly("2027-01-04T02:30:00Z", "2027-01-03T02:30:00Z");
	}

	@Test
	void countsDaysWhereTheClinicIs() {
		// 23:30 and 00:30 in Berlin
		var made = List.of(Instant.parse("2026-11-19T22:30:00Z"), Instant.parse("2026-11-19T23:30:00Z"));
		assertThat(new Retention(2, 0, 0).kept(made, ZoneId.of("Europe/Berlin"))).hasSize(2);
		assertThat(new Retention(2, 0, 0).kept(made, ZoneOffset.UTC)).containsExactly(made.get(1));
	}

	@Test
	void keepsWhatThereIsWhileNoneIsMade() {
		assertThat(kept(new Retention(2, 0, 0), "2026-03-02T02:30:00Z", "2026-03-01T02:30:00Z"))
			.containsExactly("2026-03-02T02:30:00Z", "2026-03-01T02:30:00Z");
	}

	@Test
	void oneADayForTwoYearsLeavesAsManyAsItsRulesSay() {
		var made = new ArrayList<Instant>();
		for (LocalDate day = LocalDate.of(2024, 11, 21); !day.isAfter(LocalDate.of(2026, 11, 20)); day = day
			.plusDays(1)) {
			made.add(day.atTime(2, 30).toInstant(ZoneOffset.UTC));
		}
		Collections.shuffle(made, new Random(20_261_120));
		var kept = new Retention(7, 5, 12).kept(made, ZoneOffset.UTC)
			.stream()
			.sorted(Collections.reverseOrder())
			.map((at) -> at.toString().substring(0, 10))
			.toList();
		assertThat(kept).containsExactly("2026-11-20", "2026-11-19", "2026-11-18", "2026-11-17", "2026-11-16",
				"2026-11-15", "2026-11-14", "2026-11-08", "2026-11-01", "2026-10-31", "2026-10-25", "2026-09-30",
				"2026-08-31", "2026-07-31", "2026-06-30", "2026-05-31", "2026-04-30", "2026-03-31", "2026-02-28",
				"2026-01-31", "2025-12-31");
	}

	private static List<String> kept(Retention retention, String... made) {
		return retention.kept(Stream.of(made).map(Instant::parse).toList(), ZoneOffset.UTC)
			.stream()
			.sorted(Collections.reverseOrder())
			.map(Instant::toString)
			.toList();
	}

}
