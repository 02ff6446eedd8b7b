package org.seriatim.appointment;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;

import org.seriatim.access.StaffId;

/** When practitioners work, for the modules that set a clinic up. */
public interface WorkingWeek {

	/** Enters a range of one weekday from a day on, by the clinic's clocks. */
	void enter(StaffId practitioner, DayOfWeek weekday, LocalTime starts, LocalTime ends, LocalDate from);

}
