package org.seriatim.appointment.web;

import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.appointment.domain.Appointment;
import org.seriatim.appointment.domain.BookAppointment;
import org.seriatim.appointment.domain.BookingRefused;
import org.seriatim.appointment.domain.ClockTime;
import org.seriatim.appointment.domain.Diary;
import org.seriatim.appointment.domain.FreeTime;
import org.seriatim.appointment.domain.KeepHours;
import org.seriatim.appointment.domain.OutcomeVisit;
import org.seriatim.appointment.domain.TimeTaken;
import org.seriatim.appointment.domain.TreatmentDays;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.Choice;
import org.seriatim.shell.Written;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;
import org.springframework.validation.BindingResult;

/** What the pages that book and move have in common. */
@Component
class BookingPages {

	/** How far ahead free times are searched where no window says so. */
	private static final int DAYS_AHEAD = 28;

	/** How many free times are proposed. */
	private static final int MOST = 40;

	/** Nobody books further ahead, and a year with a slip in it is found. */
	private static final int YEARS_AHEAD = 2;

	private final Diary diary;

	private final KeepHours hours;

	private final BookAppointment booking;

	private final OutcomeVisit outcome;

	private final ClinicTimes times;

	private final ZoneId clinic;

	private final MessageSource messages;

	BookingPages(Diary diary, KeepHours hours, BookAppointment booking, OutcomeVisit outcome, ClinicTimes times,
			java.time.Clock clock, MessageSource messages) {
		this.diary = diary;
		this.hours = hours;
		this.booking = booking;
		this.outcome = outcome;
		this.times = times;
		this.clinic = clock.getZone();
		this.messages = messages;
	}

	/**
	 * What is proposed.
	 *
	 * @param advised what the advice says about a treatment, if it is one
	 * @param onHold whether none may be booked
	 * @param forbidden whether only a practitioner or the lead may book it now
	 * @param beyond whether the times lie beyond the window that holds
	 * @param days free times by day
	 */
	record Proposal(@Nullable String advised, boolean onHold, boolean forbidden, boolean beyond, List<FreeDay> days) {
	}

	/** A day with its free times. */
	record FreeDay(String day, List<FreeLink> times) {
	}

	/** A free time, as what fills the form. */
	record FreeLink(String time, String practitioner, StaffId with, LocalDate day, String value, String said) {
	}

	/** Days that are searched. */
	private record Searched(LocalDate first, LocalDate target, LocalDate last, boolean beyond) {
	}

	/**
	 * @param length how long the visit takes; what is usual where none is given
	 * @param from first day to search from, where somebody asked for one
	 */
	Proposal propose(PatientId patient, AppointmentPurpose purpose, @Nullable Duration length,
			@Nullable StaffId practitioner, @Nullable LocalDate from) {
		var days = (purpose == AppointmentPurpose.TREATMENT) ? this.booking.treatmentDays(patient) : null;
		if (days != null && days.onHold()) {
			return new Proposal(say("appointment.advised.hold"), true, false, false, List.of());
		}
		var searched = searched(patient, purpose, days, from);
		var unusual = searched.beyond() || days != null && days.contactFirst();
		if (unusual && !this.booking.mayGiveClinicalReasons()) {
			return new Proposal(advised(days), false, true, searched.beyond(), List.of());
		}
		var usual = this.hours.length(purpose);
		return new Proposal(advised(days), false, false, searched.beyond(),
				grouped(this.diary.free(searched.first(), searched.target(), searched.last(),
						(length != null) ? length : Duration.ofMinutes(usual.minutes()),
						Duration.ofMinutes(usual.numbingMinutes()), practitioner, MOST)));
	}

	private Searched searched(PatientId patient, AppointmentPurpose purpose, @Nullable TreatmentDays days,
			@Nullable LocalDate from) {
		var today = this.times.today();
		if (days != null && days.first() != null && days.last() != null && days.target() != null) {
			var first = later(later(days.first(), today), from);
			if (!first.isAfter(days.last())) {
				return new Searched(first, (from != null) ? first : later(days.target(), today), days.last(), false);
			}
			return new Searched(first, first, first.plusDays(DAYS_AHEAD), true);
		}
		var earliest = (purpose == AppointmentPurpose.OUTCOME)
				? this.outcome.dueOf(patient).map((due) -> later(due, today)).orElse(today) : today;
		var first = later(earliest, from);
		return new Searched(first, first, first.plusDays(DAYS_AHEAD), false);
	}

	private static LocalDate later(LocalDate day, @Nullable LocalDate other) {
		return (other != null && other.isAfter(day)) ? other : day;
	}

	private @Nullable String advised(@Nullable TreatmentDays days) {
		if (days == null || days.first() == null || days.last() == null || days.target() == null) {
			return null;
		}
		return say(days.contactFirst() ? "appointment.advised.contact-first" : "appointment.advised.window",
				Written.weekday(days.first()), Written.weekday(days.target()), Written.weekday(days.last()));
	}

	private List<FreeDay> grouped(List<FreeTime> free) {
		Map<LocalDate, List<FreeLink>> byDay = new LinkedHashMap<>();
		for (var one : free) {
			byDay.computeIfAbsent(this.times.dayOf(one.time().start()), (day) -> new ArrayList<>()).add(link(one));
		}
		return byDay.entrySet()
			.stream()
			.map((day) -> new FreeDay(Written.weekday(day.getKey()), day.getValue()))
			.toList();
	}

	FreeLink link(FreeTime free) {
		var start = free.time().start();
		return new FreeLink(this.times.time(start), free.practitioner().name(), free.practitioner().id(),
				this.times.dayOf(start), this.times.time(start),
				say("appointment.free.of", this.times.full(start), free.practitioner().name()));
	}

	List<Choice> practitioners() {
		return this.diary.practitioners(this.times.today())
			.stream()
			.map((member) -> new Choice(member.id().toString(), member.name()))
			.toList();
	}

	/** The time that was typed; what stands against it goes to its field. */
	@Nullable ClockTime typed(BookingForm form, BindingResult errors) {
		if (form.practitioner() != null && this.diary.practitioners(this.times.today())
			.stream()
			.map(StaffMember::id)
			.noneMatch(form.practitioner()::equals)) {
			errors.rejectValue("practitioner", "appointment.practitioner.unknown");
		}
		if (form.visitDay() != null && (form.visitDay().isBefore(this.times.today())
				|| form.visitDay().isAfter(this.times.today().plusYears(YEARS_AHEAD)))) {
			errors.rejectValue("visitDay",
					form.visitDay().isBefore(this.times.today()) ? "appointment.day.past" : "appointment.day.too-far");
		}
		return errors.hasErrors() ? null : ClockTime.of(LocalDateTime.of(Objects.requireNonNull(form.visitDay()),
				whole(Objects.requireNonNull(form.visitTime()))), this.clinic);
	}

	private static LocalTime whole(LocalTime time) {
		return time.withSecond(0).withNano(0);
	}

	/** What to say once a typed time was booked. */
	static String done(ClockTime typed, String usual) {
		return switch (typed.change()) {
			case NONE -> usual;
			case SKIPPED -> "appointment.done.skipped";
			case TWICE -> "appointment.done.twice";
		};
	}

	void show(BookingRefused refused, BindingResult errors) {
		var exceptions = refused.exceptions()
			.stream()
			.map((exception) -> say("appointment.exception." + exception.word()))
			.collect(Collectors.joining(", "));
		switch (refused.why()) {
			case ON_HOLD -> errors.rejectValue("visitFor", "appointment.refused.on-hold");
			case IN_THE_PAST -> errors.rejectValue("visitTime", "appointment.refused.past");
			case PATIENT_IS_ELSEWHERE -> errors.rejectValue("visitTime", "appointment.refused.elsewhere");
			case NO_REASON ->
				errors.rejectValue("reason", "appointment.refused.no-reason", new Object[] { exceptions }, null);
			case FOR_PRACTITIONERS -> errors.rejectValue("visitDay", "appointment.refused.for-practitioners",
					new Object[] { exceptions }, null);
			case WRONG_STATUS -> errors.reject("appointment.refused.status");
		}
	}

	/** The next free time after one that was taken. */
	@Nullable FreeLink after(TimeTaken taken) {
		return this.diary
			.nextFree(taken.practitioner(), taken.time().start(),
					Duration.between(taken.time().start(), taken.time().end()))
			.map(this::link)
			.orElse(null);
	}

	String taken(TimeTaken taken, @Nullable FreeLink next) {
		return (next != null) ? say("appointment.taken.next", this.times.full(taken.time().start()), next.said())
				: say("appointment.taken", this.times.full(taken.time().start()));
	}

	/** The patient's booked times, so that nobody books a second one unawares. */
	List<String> upcoming(PatientId patient) {
		return this.diary.upcomingOf(patient).stream().map(this::line).toList();
	}

	private String line(Appointment appointment) {
		return say("appointment.line", this.times.full(appointment.time().start()),
				say("appointment-purpose." + appointment.purpose().word()), appointment.practitioner().name());
	}

	/** When the patient is to come, for a start that stands in the form. */
	@Nullable String arrival(@Nullable AppointmentPurpose purpose, @Nullable LocalDate day, @Nullable LocalTime time) {
		if (purpose == null || day == null || time == null) {
			return null;
		}
		var minutes = this.hours.length(purpose).numbingMinutes();
		var start = ClockTime.of(day.atTime(time), this.clinic).moment();
		return (minutes == 0) ? null
				: say("appointment.arrival.usual", this.times.time(start.minus(Duration.ofMinutes(minutes))), minutes);
	}

	String say(String key, Object... arguments) {
		Locale locale = LocaleContextHolder.getLocale();
		return this.messages.getMessage(key, arguments, locale);
	}

}
