package org.seriatim.appointment.web;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.UUID;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.appointment.domain.HoursOverlap;
import org.seriatim.appointment.domain.KeepHours;
import org.seriatim.appointment.domain.VisitLength;
import org.seriatim.appointment.domain.WorkingHours;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.shell.Choice;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.Written;
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

/** Setup: when practitioners work, and how long visits take. */
@Controller
@ConditionalOnWebApplication
class HoursController {

	private static final String LIST = "redirect:/setup/hours";

	private final KeepHours hours;

	private final BookingPages pages;

	private final StaffDirectory staff;

	private final ClinicTimes times;

	HoursController(KeepHours hours, BookingPages pages, StaffDirectory staff, ClinicTimes times) {
		this.hours = hours;
		this.pages = pages;
		this.staff = staff;
		this.times = times;
	}

	/** A range of working hours. */
	record HoursLine(UUID id, String practitioner, String weekday, String range, String from, @Nullable String until,
			long version) {
	}

	@GetMapping("/setup/hours")
	ModelAndView list() {
		var lines = this.hours.hours(this.times.today())
			.stream()
			.sorted(java.util.Comparator.comparing((WorkingHours one) -> nameOf(one.practitioner()))
				.thenComparing(WorkingHours::weekday)
				.thenComparing(WorkingHours::starts))
			.map(this::line)
			.toList();
		return new ModelAndView("appointment/hours", "hours", lines).addObject("lengths", this.hours.lengths());
	}

	private HoursLine line(WorkingHours one) {
		return new HoursLine(one.id(), nameOf(one.practitioner()), weekday(one.weekday()),
				ClinicTimes.time(one.starts()) + "–" + ClinicTimes.time(one.ends()), Written.day(one.validFrom()),
				(one.validUntil() != null) ? Written.day(one.validUntil()) : null, one.version());
	}

	private String nameOf(StaffId practitioner) {
		return this.staff.byId(practitioner).map(StaffMember::name).orElse("");
	}

	private String weekday(DayOfWeek day) {
		return this.pages.say("weekday." + day.name().toLowerCase(java.util.Locale.ROOT));
	}

	@GetMapping("/setup/hours/new")
	ModelAndView askForHours(@RequestParam(required = false) @Nullable StaffId practitioner) {
		return hoursPage(null, HttpStatus.OK).addObject("form",
				new HoursForm(null, practitioner, null, null, null, this.times.today(), null));
	}

	@PostMapping("/setup/hours/new")
	ModelAndView enter(@Valid @ModelAttribute("form") HoursForm form, BindingResult errors, RedirectAttributes flash) {
		check(form, errors);
		if (form.practitioner() != null && this.staff.byId(form.practitioner()).isEmpty()) {
			errors.rejectValue("practitioner", "appointment.practitioner.unknown");
		}
		if (!errors.hasErrors()) {
			try {
				this.hours.enter(Objects.requireNonNull(form.practitioner()), Objects.requireNonNull(form.weekday()),
						Objects.requireNonNull(form.starts()), Objects.requireNonNull(form.ends()),
						Objects.requireNonNull(form.validFrom()), form.validUntil());
				flash.addFlashAttribute("notice", "appointment.hours.saved");
				return new ModelAndView(LIST);
			}
			catch (HoursOverlap ex) {
				errors.rejectValue("starts", "appointment.hours.overlap");
			}
		}
		return hoursPage(null, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@GetMapping("/setup/hours/{hours}/edit")
	ModelAndView askToChange(@PathVariable("hours") UUID id) {
		var existing = existing(id);
		return hoursPage(existing, HttpStatus.OK).addObject("form", HoursForm.from(existing));
	}

	@PostMapping("/setup/hours/{hours}/edit")
	ModelAndView change(@PathVariable("hours") UUID id, @Valid @ModelAttribute("form") HoursForm form,
			BindingResult errors, RedirectAttributes flash) {
		var existing = existing(id);
		check(form, errors);
		if (!errors.hasErrors()) {
			try {
				this.hours.change(id, form.version(), Objects.requireNonNull(form.weekday()),
						Objects.requireNonNull(form.starts()), Objects.requireNonNull(form.ends()),
						Objects.requireNonNull(form.validFrom()), form.validUntil());
				flash.addFlashAttribute("notice", "appointment.hours.saved");
				return new ModelAndView(LIST);
			}
			catch (HoursOverlap ex) {
				errors.rejectValue("starts", "appointment.hours.overlap");
			}
		}
		return hoursPage(existing, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@PostMapping("/setup/hours/{hours}/take-back")
	String takeBack(@PathVariable("hours") UUID id, @RequestParam(required = false) @Nullable Long version,
			RedirectAttributes flash) {
		existing(id);
		this.hours.takeBackHours(id, version);
		flash.addFlashAttribute("notice", "appointment.hours.taken-back");
		return LIST;
	}

	@GetMapping("/setup/visit-lengths/{purpose}/edit")
	ModelAndView askForLength(@PathVariable AppointmentPurpose purpose) {
		return lengthPage(purpose, HttpStatus.OK).addObject("form", LengthForm.from(this.hours.length(purpose)));
	}

	@PostMapping("/setup/visit-lengths/{purpose}/edit")
	ModelAndView changeLength(@PathVariable AppointmentPurpose purpose, @Valid @ModelAttribute("form") LengthForm form,
			BindingResult errors, RedirectAttributes flash) {
		var minutes = errors.hasErrors() ? null : DecimalText.whole(form.visitMinutes());
		var numbing = errors.hasErrors() ? null : DecimalText.whole(form.numbingMinutes());
		if (minutes != null && numbing != null) {
			this.hours.change(purpose, form.version(), minutes, numbing);
			flash.addFlashAttribute("notice", "appointment.lengths.saved");
			return new ModelAndView(LIST);
		}
		return lengthPage(purpose, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private ModelAndView lengthPage(AppointmentPurpose purpose, HttpStatus status) {
		VisitLength length = this.hours.length(purpose);
		return new ModelAndView("appointment/length-form", status).addObject("length", length);
	}

	private void check(HoursForm form, BindingResult errors) {
		if (form.starts() != null && form.ends() != null && !form.ends().isAfter(form.starts())) {
			errors.rejectValue("ends", "appointment.hours.backwards");
		}
		for (var field : List.of("validFrom", "validUntil")) {
			LocalDate day = field.equals("validFrom") ? form.validFrom() : form.validUntil();
			if (day != null && !this.times.isNear(day)) {
				errors.rejectValue(field, "appointment.day.implausible");
			}
		}
		if (form.validFrom() != null && form.validUntil() != null && form.validUntil().isBefore(form.validFrom())) {
			errors.rejectValue("validUntil", "appointment.days.backwards");
		}
	}

	private ModelAndView hoursPage(@Nullable WorkingHours existing, HttpStatus status) {
		return new ModelAndView("appointment/hours-form", status).addObject("existing", existing)
			.addObject("of", (existing != null) ? nameOf(existing.practitioner()) : null)
			.addObject("practitioners", this.pages.practitioners())
			.addObject("weekdays", Choice.ofWords("weekday", Arrays.asList(DayOfWeek.values())));
	}

	private WorkingHours existing(UUID id) {
		return this.hours.hours(id).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
