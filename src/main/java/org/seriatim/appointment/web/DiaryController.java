package org.seriatim.appointment.web;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.temporal.TemporalAdjusters;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.appointment.AppointmentId;
import org.seriatim.appointment.domain.Appointment;
import org.seriatim.appointment.domain.BookAppointment;
import org.seriatim.appointment.domain.Diary;
import org.seriatim.appointment.domain.Openings;
import org.seriatim.followup.AppointmentStatus;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.Written;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** The diary: a day as a list in the order of its times, a week as a table. */
@Controller
@ConditionalOnWebApplication
class DiaryController {

	private static final int DAYS_OF_A_WEEK = 7;

	private final Diary diary;

	private final BookAppointment booking;

	private final BookingPages pages;

	private final ClinicTimes times;

	DiaryController(Diary diary, BookAppointment booking, BookingPages pages, ClinicTimes times) {
		this.diary = diary;
		this.booking = booking;
		this.pages = pages;
		this.times = times;
	}

	/**
	 * An appointment.
	 *
	 * @param arrival when the patient is to come, where that is before the start
	 * @param problem message key of what is wrong with its time, if anything is
	 * @param next what can be noted of it now
	 */
	record Line(AppointmentId id, PatientId patient, String time, @Nullable String arrival, String person,
			String recordNumber, @Nullable String phone, String purpose, String practitioner, String status,
			long version, @Nullable String problem, List<AppointmentStatus> next) {
	}

	/** A practitioner's week. */
	record Row(String practitioner, List<Cell> days) {
	}

	/**
	 * A practitioner's day.
	 *
	 * @param hours working hours, or what takes their place
	 */
	record Cell(LocalDate day, String hours, List<Line> appointments) {
	}

	/** A day as a heading. */
	record Day(LocalDate day, String written, boolean today) {
	}

	@GetMapping("/diary")
	ModelAndView show(@RequestParam(required = false) @Nullable LocalDate day,
			@RequestParam(defaultValue = "day") String view,
			@RequestParam(required = false) @Nullable StaffId practitioner) {
		var today = this.times.today();
		var asked = (day != null && this.times.isNear(day)) ? day : today;
		var week = view.equals("week");
		var first = week ? asked.with(TemporalAdjusters.previousOrSame(DayOfWeek.MONDAY)) : asked;
		var last = week ? first.plusDays(DAYS_OF_A_WEEK - 1) : first;
		var openings = this.diary.openings(first);
		var practitioners = this.diary.practitioners(first);
		var chosen = practitioners.stream()
			.filter((member) -> practitioner == null || member.id().equals(practitioner))
			.toList();
		var appointments = this.diary.between(first, last)
			.stream()
			.filter((one) -> one.status() != AppointmentStatus.CANCELLED && chosen.contains(one.practitioner()))
			.toList();
		var page = new ModelAndView(week ? "appointment/week" : "appointment/day").addObject("day", asked)
			.addObject("written",
					week ? this.pages.say("appointment.diary.week-of", Written.day(first), Written.day(last))
							: Written.weekday(asked))
			.addObject("view", week ? "week" : "day")
			.addObject("today", today)
			.addObject("previous", asked.minusDays(week ? DAYS_OF_A_WEEK : 1))
			.addObject("following", asked.plusDays(week ? DAYS_OF_A_WEEK : 1))
			.addObject("practitioners", this.pages.practitioners())
			.addObject("with", practitioner);
		if (week) {
			return page
				.addObject("days",
						first.datesUntil(last.plusDays(1))
							.map((date) -> new Day(date, Written.weekday(date), date.equals(today)))
							.toList())
				.addObject("weeks",
						chosen.stream().map((member) -> row(member, first, last, appointments, openings)).toList());
		}
		return page.addObject("appointments", appointments.stream().map((one) -> line(one, openings)).toList())
			.addObject("hours",
					chosen.stream()
						.map((member) -> new Row(member.name(),
								List.of(new Cell(asked, hours(member.id(), asked, openings), List.of()))))
						.toList());
	}

	private Row row(StaffMember member, LocalDate first, LocalDate last, List<Appointment> appointments,
			Openings openings) {
		var cells = new ArrayList<Cell>();
		first.datesUntil(last.plusDays(1))
			.forEach((date) -> cells.add(new Cell(date, hours(member.id(), date, openings), appointments.stream()
				.filter((one) -> one.practitioner().equals(member) && this.times.dayOf(one.time().start()).equals(date))
				.map((one) -> line(one, openings))
				.toList())));
		return new Row(member.name(), cells);
	}

	private String hours(StaffId practitioner, LocalDate day, Openings openings) {
		if (openings.isClinicClosedOn(day)) {
			return this.pages.say("appointment.diary.closed");
		}
		if (openings.isAwayOn(practitioner, day)) {
			return this.pages.say("appointment.diary.away");
		}
		var open = openings.of(practitioner, day);
		return open.isEmpty() ? this.pages.say("appointment.diary.no-hours")
				: String.join(", ", open.stream().map(this.times::range).toList());
	}

	private Line line(Appointment one, Openings openings) {
		return new Line(one.id(), one.patient(), this.times.range(one.time()),
				(one.numbingMinutes() > 0) ? this.times.time(one.arrival()) : null, one.person(), one.recordNumber(),
				one.phone(), this.pages.say("appointment-purpose." + one.purpose().word()), one.practitioner().name(),
				this.pages.say("appointment-status." + one.status().word()), one.version(), problem(one, openings),
				Arrays.stream(AppointmentStatus.values())
					.filter((status) -> this.booking.follows(one, status))
					.toList());
	}

	/**
	 * What came after it was booked: a closure, or somebody who is away. What was booked
	 * there with a reason is no problem.
	 */
	private @Nullable String problem(Appointment one, Openings openings) {
		if (one.status() != AppointmentStatus.BOOKED || !one.exceptions().isEmpty()) {
			return null;
		}
		var day = this.times.dayOf(one.time().start());
		if (openings.isClinicClosedOn(day)) {
			return "appointment.exception.clinic_closed";
		}
		return openings.isAwayOn(Objects.requireNonNull(one.practitioner().id()), day)
				? "appointment.exception.practitioner_away" : null;
	}

}
