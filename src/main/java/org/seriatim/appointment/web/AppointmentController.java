package org.seriatim.appointment.web;

import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.UUID;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.access.StaffId;
import org.seriatim.appointment.AppointmentId;
import org.seriatim.appointment.domain.Appointment;
import org.seriatim.appointment.domain.BookAppointment;
import org.seriatim.appointment.domain.BookingRefused;
import org.seriatim.appointment.domain.Diary;
import org.seriatim.appointment.domain.RemindPatients;
import org.seriatim.appointment.domain.RemindPatients.Outlook;
import org.seriatim.appointment.domain.TimeTaken;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.followup.AppointmentStatus;
import org.seriatim.patient.PatientDirectory;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** One appointment: when to come, who came, moved, cancelled. */
@Controller
@ConditionalOnWebApplication
class AppointmentController {

	private final Diary diary;

	private final BookAppointment booking;

	private final BookingPages pages;

	private final PatientDirectory patients;

	private final ClinicTimes times;

	private final CurrentStaff staff;

	private final RemindPatients reminders;

	AppointmentController(Diary diary, BookAppointment booking, BookingPages pages, PatientDirectory patients,
			ClinicTimes times, CurrentStaff staff, RemindPatients reminders) {
		this.diary = diary;
		this.booking = booking;
		this.pages = pages;
		this.patients = patients;
		this.times = times;
		this.staff = staff;
		this.reminders = reminders;
	}

	@GetMapping("/appointments/{appointment}")
	ModelAndView show(@PathVariable AppointmentId appointment) {
		var shown = existing(appointment);
		this.patients.open(shown.patient());
		return page(shown, HttpStatus.OK).addObject("form", NumbingForm.of(shown));
	}

	@PostMapping("/appointments/{appointment}/note")
	ModelAndView note(@PathVariable AppointmentId appointment, @RequestParam(required = false) @Nullable Long version,
			@RequestParam AppointmentStatus status, @RequestParam(defaultValue = "false") boolean diary,
			RedirectAttributes flash) {
		var noted = existing(appointment);
		try {
			this.booking.note(appointment, version, status);
			flash.addFlashAttribute("notice", "appointment.noted." + status.word());
			return new ModelAndView(diary ? "redirect:/diary?day=" + this.times.dayOf(noted.time().start())
					: "redirect:/appointments/" + appointment);
		}
		catch (BookingRefused ex) {
			return page(noted, HttpStatus.UNPROCESSABLE_CONTENT).addObject("form", NumbingForm.of(noted))
				.addObject("refused", this.pages.say("appointment.refused.status"));
		}
		catch (TimeTaken ex) {
			return page(noted, HttpStatus.CONFLICT).addObject("form", NumbingForm.of(noted))
				.addObject("refused", this.pages.taken(ex, null));
		}
	}

	@PostMapping("/appointments/{appointment}/numbing")
	ModelAndView numb(@PathVariable AppointmentId appointment, @Valid @ModelAttribute("form") NumbingForm form,
			BindingResult errors, RedirectAttributes flash) {
		var numbed = existing(appointment);
		if (!errors.hasErrors()) {
			try {
				this.booking.numb(appointment, form.version(), form.minutes());
				flash.addFlashAttribute("notice", "appointment.numbing.saved");
				return new ModelAndView("redirect:/appointments/" + appointment);
			}
			catch (BookingRefused ex) {
				this.pages.show(ex, errors);
			}
		}
		return page(numbed, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@GetMapping("/appointments/{appointment}/cancel")
	ModelAndView askWhyCancelled(@PathVariable AppointmentId appointment) {
		var cancelled = existing(appointment);
		this.patients.open(cancelled.patient());
		return cancelPage(cancelled, HttpStatus.OK).addObject("form", new CancelForm(null, cancelled.version()));
	}

	@PostMapping("/appointments/{appointment}/cancel")
	ModelAndView cancel(@PathVariable AppointmentId appointment, @Valid @ModelAttribute("form") CancelForm form,
			BindingResult errors, RedirectAttributes flash) {
		var cancelled = existing(appointment);
		if (!errors.hasErrors()) {
			try {
				this.booking.cancel(appointment, form.version(), Objects.requireNonNull(form.reason()));
				flash.addFlashAttribute("notice", "appointment.cancelled");
				return new ModelAndView("redirect:/appointments/" + appointment);
			}
			catch (BookingRefused ex) {
				this.pages.show(ex, errors);
			}
		}
		return cancelPage(cancelled, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private ModelAndView cancelPage(Appointment cancelled, HttpStatus status) {
		return new ModelAndView("appointment/cancel", status).addObject("appointment", cancelled)
			.addObject("when", this.times.full(cancelled.time().start()));
	}

	@GetMapping("/appointments/{appointment}/move")
	ModelAndView askWhere(@PathVariable AppointmentId appointment,
			@RequestParam(required = false) @Nullable StaffId practitioner,
			@RequestParam(required = false) @Nullable LocalDate from,
			@RequestParam(required = false) @Nullable LocalDate day,
			@RequestParam(required = false) @Nullable LocalTime time) {
		var moved = existing(appointment);
		this.patients.open(moved.patient());
		var form = BookingForm.of(moved.purpose(), (practitioner != null) ? practitioner : moved.practitioner().id(),
				day, time, moved.version());
		return movePage(moved, form, from, HttpStatus.OK).addObject("form", form);
	}

	@PostMapping("/appointments/{appointment}/move")
	ModelAndView move(@PathVariable AppointmentId appointment, @Valid @ModelAttribute("form") BookingForm form,
			BindingResult errors, RedirectAttributes flash) {
		var moved = existing(appointment);
		if (form.reason() == null || form.reason().isBlank()) {
			errors.rejectValue("reason", "appointment.move.no-reason");
		}
		var typed = this.pages.typed(form, errors);
		if (typed != null) {
			try {
				var holds = this.booking.move(appointment, form.version(), Objects.requireNonNull(form.practitioner()),
						typed.moment(), form.length(), Objects.requireNonNull(form.reason()));
				flash.addFlashAttribute("notice", BookingPages.done(typed, "appointment.moved"));
				return new ModelAndView("redirect:/appointments/" + holds);
			}
			catch (BookingRefused ex) {
				this.pages.show(ex, errors);
			}
			catch (TimeTaken ex) {
				var next = this.pages.after(ex);
				errors.rejectValue("visitTime", "appointment.said", new Object[] { this.pages.taken(ex, next) }, null);
				return movePage(moved, form, null, HttpStatus.CONFLICT).addObject("next", next);
			}
		}
		return movePage(moved, form, null, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private ModelAndView movePage(Appointment moved, BookingForm form, @Nullable LocalDate from, HttpStatus status) {
		var asked = (from != null && this.times.isNear(from)) ? from : null;
		return new ModelAndView("appointment/move", status).addObject("appointment", moved)
			.addObject("when", this.times.full(moved.time().start()))
			.addObject("practitioners", this.pages.practitioners())
			.addObject("with", form.practitioner())
			.addObject("from", asked)
			.addObject("today", this.times.today())
			.addObject("proposal", this.pages.propose(moved.patient(), moved.purpose(),
					Duration.between(moved.time().start(), moved.time().end()), form.practitioner(), asked));
	}

	private ModelAndView page(Appointment shown, HttpStatus status) {
		var clinical = this.staff.has(Role.ASSISTANT) || this.booking.mayGiveClinicalReasons();
		return new ModelAndView("appointment/appointment", status).addObject("appointment", shown)
			.addObject("when", this.times.full(shown.time().start()))
			.addObject("range", this.times.range(shown.time()))
			.addObject("arrival", this.times.time(shown.arrival()))
			.addObject("minutes", Duration.between(shown.time().start(), shown.time().end()).toMinutes())
			.addObject("exceptions",
					shown.exceptions()
						.stream()
						.map((exception) -> this.pages.say("appointment.exception." + exception.word()))
						.toList())
			// a reason for an early treatment may speak of what the desk does not see
			.addObject("reason",
					(clinical || shown.exceptions().stream().noneMatch((exception) -> exception.isForPractitioners()))
							? shown.exceptionReason() : null)
			.addObject("reminder", this.reminders.outlook(shown).map(this::reminder).orElse(null))
			.addObject("nextSteps", next(shown))
			.addObject("clinical", clinical)
			.addObject("licensed", this.booking.mayGiveClinicalReasons() && shown.isHeld()
					&& shown.purpose() == AppointmentPurpose.TREATMENT);
	}

	/**
	 * The reminder as the page shows it.
	 *
	 * @param at when it goes or went
	 * @param message its id in the outbox
	 * @param toldOf another time that the patient was reminded of last
	 */
	record ReminderLine(String key, @Nullable String at, @Nullable UUID message, @Nullable String toldOf) {
	}

	private ReminderLine reminder(Outlook outlook) {
		return new ReminderLine(outlook.key(), (outlook.at() != null) ? this.times.full(outlook.at()) : null,
				outlook.message(), (outlook.toldOf() != null) ? this.times.full(outlook.toldOf()) : null);
	}

	private List<AppointmentStatus> next(Appointment appointment) {
		return Arrays.stream(AppointmentStatus.values())
			.filter((status) -> this.booking.follows(appointment, status))
			.toList();
	}

	private Appointment existing(AppointmentId id) {
		return this.diary.byId(id).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
