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

	private static final LocalTime OPENS = LocalTime.of(9, 0);

	private static final int PLACES_A_DAY = 9;

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
		return date.atTime(OPENS.plusMinutes((long) place * MINUTES)).atZone(this.zone).toOffsetDateTime();
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
