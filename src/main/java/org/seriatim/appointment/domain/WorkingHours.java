package org.seriatim.appointment.domain;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;

/**
 * A range of one weekday in which a practitioner works, by the clinic's clocks.
 *
 * @param validFrom first day on which it holds
 * @param validUntil last day on which it holds; none while it goes on
 */
public record WorkingHours(UUID id, StaffId practitioner, DayOfWeek weekday, LocalTime starts, LocalTime ends,
		LocalDate validFrom, @Nullable LocalDate validUntil, long version) {

	boolean holdsOn(LocalDate day) {
		return day.getDayOfWeek() == this.weekday && !day.isBefore(this.validFrom)
				&& (this.validUntil == null || !day.isAfter(this.validUntil));
	}

}
