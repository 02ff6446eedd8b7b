package org.seriatim.demo.domain;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.Map;

/** The invented clinic's diary: nobody is booked twice at one time. */
final class Bookings {

	static final int MINUTES = 45;

	static final LocalTime OPENS = LocalTime.of(9, 0);

	static final LocalTime BREAK = LocalTime.of(12, 45);

	static final LocalTime BREAK_ENDS = LocalTime.of(13, 30);

	static final LocalTime CLOSES = LocalTime.of(17, 15);

	private static final int PLACES_BEFORE_THE_BREAK = 5;

	/** Some of a day stays free. */
	private static final int PLACES_A_DAY = 8;

	private final Map<String, Integer> taken = new HashMap<>();

	private final ZoneId zone;

	Bookings(ZoneId zone) {
		this.zone = zone;
	}

	/** The next free time of the practitioner on or after the day. */
	OffsetDateTime next(String practitioner, LocalDate day) {
		LocalDate date = working(day);
		while (this.taken.getOrDefault(practitioner + date, 0) >= PLACES_A_DAY) {
			date = working(date.plusDays(1));
		}
		int place = this.taken.merge(practitioner + date, 1, Integer::sum) - 1;
		var starts = (place < PLACES_BEFORE_THE_BREAK) ? OPENS.plusMinutes((long) place * MINUTES)
				: BREAK_ENDS.plusMinutes((long) (place - PLACES_BEFORE_THE_BREAK) * MINUTES);
		return date.atTime(starts).atZone(this.zone).toOffsetDateTime();
	}

	static LocalDate working(LocalDate day) {
		return switch (day.getDayOfWeek()) {
			case SATURDAY -> day.plusDays(2);
			case SUNDAY -> day.plusDays(1);
			default -> day;
		};
	}

	static boolean isWorking(LocalDate day) {
		return day.getDayOfWeek() != DayOfWeek.SATURDAY && day.getDayOfWeek() != DayOfWeek.SUNDAY;
	}

}
