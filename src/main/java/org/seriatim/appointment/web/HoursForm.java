package org.seriatim.appointment.web;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;

import jakarta.validation.constraints.NotNull;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.appointment.domain.WorkingHours;

/** A range of working hours as it is typed. */
record HoursForm(@Nullable Long version,
		@NotNull(message = "{appointment.practitioner.missing}") @Nullable StaffId practitioner,
		@NotNull @Nullable DayOfWeek weekday, @NotNull @Nullable LocalTime starts, @NotNull @Nullable LocalTime ends,
		@NotNull @Nullable LocalDate validFrom, @Nullable LocalDate validUntil) {

	static HoursForm from(WorkingHours hours) {
		return new HoursForm(hours.version(), hours.practitioner(), hours.weekday(), hours.starts(), hours.ends(),
				hours.validFrom(), hours.validUntil());
	}

}
