package org.seriatim.appointment.web;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Objects;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.appointment.domain.BookAppointment;
import org.seriatim.appointment.domain.BookingRefused;
import org.seriatim.appointment.domain.TimeTaken;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientSummary;
import org.seriatim.shell.Choice;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/**
 * Books a patient: free times, the nearest to the target day first, and any other time.
 */
@Controller
@ConditionalOnWebApplication
class BookingController {

	private final BookAppointment booking;

	private final BookingPages pages;

	private final PatientDirectory patients;

	private final ClinicTimes times;

	BookingController(BookAppointment booking, BookingPages pages, PatientDirectory patients, ClinicTimes times) {
		this.booking = booking;
		this.pages = pages;
		this.patients = patients;
		this.times = times;
	}

	@GetMapping("/patients/{patient}/appointments/new")
	ModelAndView ask(@PathVariable PatientId patient,
			@RequestParam(required = false) @Nullable AppointmentPurpose purpose,
			@RequestParam(required = false) @Nullable StaffId practitioner,
			@RequestParam(required = false) @Nullable LocalDate from,
			@RequestParam(required = false) @Nullable LocalDate day,
			@RequestParam(required = false) @Nullable LocalTime time) {
		var whom = this.patients.open(patient);
		var usual = (purpose != null) ? purpose : usual(patient);
		var form = BookingForm.of(usual, practitioner, day, time, null);
		return page(whom, form, from, HttpStatus.OK).addObject("form", form);
	}

	/** A treatment, unless it is on hold: then the review that settles it. */
	private AppointmentPurpose usual(PatientId patient) {
		return this.booking.treatmentDays(patient).onHold() ? AppointmentPurpose.REVIEW : AppointmentPurpose.TREATMENT;
	}

	@PostMapping("/patients/{patient}/appointments/new")
	ModelAndView book(@PathVariable PatientId patient, @Valid @ModelAttribute("form") BookingForm form,
			BindingResult errors, RedirectAttributes flash) {
		var whom = this.patients.requireExisting(patient);
		var typed = this.pages.typed(form, errors);
		if (typed != null) {
			try {
				var booked = this.booking.book(patient, Objects.requireNonNull(form.visitFor()),
						Objects.requireNonNull(form.practitioner()), typed.moment(), form.length(), form.numbing(),
						form.reason());
				flash.addFlashAttribute("notice", BookingPages.done(typed, "appointment.booked"));
				return new ModelAndView("redirect:/appointments/" + booked);
			}
			catch (BookingRefused ex) {
				this.pages.show(ex, errors);
			}
			catch (TimeTaken ex) {
				var next = this.pages.after(ex);
				errors.rejectValue("visitTime", "appointment.said", new Object[] { this.pages.taken(ex, next) }, null);
				return page(whom, form, null, HttpStatus.CONFLICT).addObject("next", next);
			}
		}
		return page(whom, form, null, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private ModelAndView page(PatientSummary patient, BookingForm form, @Nullable LocalDate from, HttpStatus status) {
		var purpose = (form.visitFor() != null) ? form.visitFor() : usual(patient.id());
		var asked = (from != null && this.times.isNear(from)) ? from : null;
		return new ModelAndView("appointment/booking", status).addObject("patient", patient)
			.addObject("purpose", purpose)
			.addObject("purposes", Choice.ofWords("appointment-purpose", AppointmentPurpose.values()))
			.addObject("practitioners", this.pages.practitioners())
			.addObject("with", form.practitioner())
			.addObject("from", asked)
			.addObject("today", this.times.today())
			.addObject("proposal", this.pages.propose(patient.id(), purpose, null, form.practitioner(), asked))
			.addObject("arrival", this.pages.arrival(form.visitFor(), near(form.visitDay()), form.visitTime()))
			.addObject("upcoming", this.pages.upcoming(patient.id()))
			.addObject("licensed", this.booking.mayGiveClinicalReasons());
	}

	private @Nullable LocalDate near(@Nullable LocalDate day) {
		return (day != null && this.times.isNear(day)) ? day : null;
	}

}
