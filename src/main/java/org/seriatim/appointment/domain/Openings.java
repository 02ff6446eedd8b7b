package org.seriatim.appointment.domain;

import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;

import org.seriatim.access.StaffId;

/**
 * When practitioners can be booked: their working hours, without the days on which the
 * clinic is closed or they are away.
 */
public final class Openings {

	private final List<WorkingHours> hours;

	private final List<ClosedDays> closed;

	private final ZoneId clinic;

	Openings(List<WorkingHours> hours, List<ClosedDays> closed, ZoneId clinic) {
		this.hours = List.copyOf(hours);
		this.closed = List.copyOf(closed);
		this.clinic = clinic;
	}

	/** Whether the whole clinic is closed on the day. */
	public boolean isClinicClosedOn(LocalDate day) {
		return this.closed.stream().anyMatch((days) -> days.practitioner() == null && days.isOn(day));
	}

	public boolean isAwayOn(StaffId practitioner, LocalDate day) {
		return this.closed.stream().anyMatch((days) -> practitioner.equals(days.practitioner()) && days.isOn(day));
	}

	/** Whether anybody has entered when the practitioner works. */
	public boolean areKnownOf(StaffId practitioner) {
		return this.hours.stream().anyMatch((hours) -> hours.practitioner().equals(practitioner));
	}

	/** Whether anybody has entered hours that hold on the day. */
	boolean anybodyWorksOn(LocalDate day) {
		return this.hours.stream().anyMatch((hours) -> hours.holdsOn(day));
	}

	boolean areKnown() {
		return !this.hours.isEmpty();
	}

	/**
	 * The times in which the practitioner can be booked on a day, in order. Where the
	 * clocks are changed within working hours, these are an hour shorter or longer.
	 */
	public List<Span> of(StaffId practitioner, LocalDate day) {
		if (isClinicClosedOn(day) || isAwayOn(practitioner, day)) {
			return List.of();
		}
		return Span.joined(this.hours.stream()
			.filter((hours) -> hours.practitioner().equals(practitioner) && hours.holdsOn(day))
			.flatMap((hours) -> {
				var from = ClockTime.of(day.atTime(hours.starts()), this.clinic).moment();
				var until = ClockTime.of(day.atTime(hours.ends()), this.clinic).moment();
				// a range that lies in the hour that is skipped is none
				return until.isAfter(from) ? java.util.stream.Stream.of(new Span(from, until))
						: java.util.stream.Stream.<Span>empty();
			})
			.toList());
	}

}
