package org.seriatim.appointment.web;

import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

import org.seriatim.appointment.domain.Span;
import org.seriatim.shell.Written;
import org.springframework.stereotype.Component;

/** Writes moments as the clinic's clocks show them. */
@Component
class ClinicTimes {

	private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

	private static final int YEARS = 50;

	private final Clock clock;

	ClinicTimes(Clock clock) {
		this.clock = clock;
	}

	LocalDate today() {
		return LocalDate.now(this.clock);
	}

	/** Whether a day that stands in an address is one that a diary can be opened at. */
	boolean isNear(LocalDate day) {
		return Math.abs(day.getYear() - (long) today().getYear()) <= YEARS;
	}

	LocalDate dayOf(Instant moment) {
		return LocalDate.ofInstant(moment, this.clock.getZone());
	}

	LocalTime timeOf(Instant moment) {
		return LocalTime.ofInstant(moment, this.clock.getZone());
	}

	/** 14:30. */
	String time(Instant moment) {
		return TIME.format(timeOf(moment));
	}

	static String time(LocalTime time) {
		return TIME.format(time);
	}

	/** 14:30 to 15:15, with a true dash. */
	String range(Span span) {
		return time(span.start()) + "–" + time(span.end());
	}

	/** Thu 3 Dec 2026. */
	String day(Instant moment) {
		return Written.weekday(dayOf(moment));
	}

	/** Thu 3 Dec 2026, 14:30. */
	String full(Instant moment) {
		return day(moment) + ", " + time(moment);
	}

}
