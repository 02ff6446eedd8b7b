package org.seriatim.appointment.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.UUID;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffMember;
import org.seriatim.appointment.domain.Appointment;
import org.seriatim.appointment.domain.ClosedDays;
import org.seriatim.appointment.domain.Diary;
import org.seriatim.appointment.domain.KeepHours;
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

/**
 * Days on which the clinic is closed or somebody is away, and who is booked there all the
 * same.
 */
@Controller
@ConditionalOnWebApplication
class ClosedDaysController {

	private static final String LIST = "redirect:/closed-days";

	private final KeepHours hours;

	private final Diary diary;

	private final BookingPages pages;

	private final StaffDirectory staff;

	private final ClinicTimes times;

	ClosedDaysController(KeepHours hours, Diary diary, BookingPages pages, StaffDirectory staff, ClinicTimes times) {
		this.hours = hours;
		this.diary = diary;
		this.pages = pages;
		this.staff = staff;
		this.times = times;
	}

	/**
	 * Closed days.
	 *
	 * @param booked how many are booked there
	 */
	record ClosedLine(UUID id, @Nullable String practitioner, String days, @Nullable String note, long booked,
			LocalDate first, long version) {
	}

	@GetMapping("/closed-days")
	ModelAndView list() {
		return page(HttpStatus.OK).addObject("form", new ClosedForm(null, null, null, null));
	}

	@PostMapping("/closed-days")
	ModelAndView close(@Valid @ModelAttribute("form") ClosedForm form, BindingResult errors, RedirectAttributes flash) {
		check(form, errors);
		if (!errors.hasErrors()) {
			this.hours.close(form.practitioner(), Objects.requireNonNull(form.closedFrom()),
					Objects.requireNonNull(form.closedUntil()),
					(form.closure() == null || form.closure().isBlank()) ? null : form.closure().strip());
			flash.addFlashAttribute("notice", "appointment.closed.saved");
			return new ModelAndView(LIST);
		}
		return page(HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@PostMapping("/closed-days/{closed}/take-back")
	String takeBack(@PathVariable UUID closed, @RequestParam(required = false) @Nullable Long version,
			RedirectAttributes flash) {
		if (all().stream().noneMatch((days) -> days.id().equals(closed))) {
			throw new ResponseStatusException(HttpStatus.NOT_FOUND);
		}
		this.hours.takeBackClosed(closed, version);
		flash.addFlashAttribute("notice", "appointment.closed.taken-back");
		return LIST;
	}

	private void check(ClosedForm form, BindingResult errors) {
		if (form.practitioner() != null && this.staff.byId(form.practitioner()).isEmpty()) {
			errors.rejectValue("practitioner", "appointment.practitioner.unknown");
		}
		if (form.practitioner() == null && (form.closure() == null || form.closure().isBlank())
				&& !errors.hasFieldErrors("practitioner")) {
			errors.rejectValue("closure", "appointment.closed.no-note");
		}
		if (form.closedFrom() != null && !this.times.isNear(form.closedFrom())) {
			errors.rejectValue("closedFrom", "appointment.day.implausible");
		}
		if (form.closedUntil() != null && !this.times.isNear(form.closedUntil())) {
			errors.rejectValue("closedUntil", "appointment.day.implausible");
		}
		if (form.closedFrom() != null && form.closedUntil() != null && form.closedUntil().isBefore(form.closedFrom())) {
			errors.rejectValue("closedUntil", "appointment.days.backwards");
		}
	}

	private List<ClosedDays> all() {
		return this.hours.closed(this.times.today());
	}

	private ModelAndView page(HttpStatus status) {
		var all = all();
		var last = all.stream().map(ClosedDays::last).max(LocalDate::compareTo);
		var held = last
			.map((day) -> this.diary.between(this.times.today(), day).stream().filter(Appointment::isHeld).toList())
			.orElse(List.of());
		return new ModelAndView("appointment/closed-days", status)
			.addObject("closed", all.stream().map((days) -> line(days, held)).toList())
			.addObject("practitioners", this.pages.practitioners());
	}

	private ClosedLine line(ClosedDays days, List<Appointment> held) {
		var practitioner = days.practitioner();
		var booked = held.stream()
			.filter((one) -> days.isOn(this.times.dayOf(one.time().start()))
					&& (practitioner == null || practitioner.equals(one.practitioner().id())))
			.count();
		return new ClosedLine(days.id(),
				(practitioner != null) ? this.staff.byId(practitioner).map(StaffMember::name).orElse("") : null,
				days.first().equals(days.last()) ? Written.weekday(days.first())
						: Written.weekday(days.first()) + " – " + Written.weekday(days.last()),
				days.note(), booked, days.first(), days.version());
	}

}
