package org.seriatim.appointment.web;

import java.time.Clock;
import java.time.LocalTime;
import java.util.List;
import java.util.Objects;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffMember;
import org.seriatim.appointment.domain.HealthWords;
import org.seriatim.appointment.domain.KeepReminderSettings;
import org.seriatim.appointment.domain.ReminderSettings;
import org.seriatim.contactlink.PatientMail;
import org.seriatim.shell.Written;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Setup: when and in which words patients are reminded of their appointments. */
@Controller
@ConditionalOnWebApplication
class ReminderController {

	/** When one arrives for the invented appointment of the preview. */
	private static final LocalTime EXAMPLE = LocalTime.of(9, 15);

	private static final int EXAMPLE_DAYS = 2;

	private final KeepReminderSettings settings;

	private final PatientMail mail;

	private final BookingPages pages;

	private final StaffDirectory staff;

	private final ClinicTimes times;

	private final Clock clock;

	ReminderController(KeepReminderSettings settings, PatientMail mail, BookingPages pages, StaffDirectory staff,
			ClinicTimes times, Clock clock) {
		this.settings = settings;
		this.mail = mail;
		this.pages = pages;
		this.staff = staff;
		this.times = times;
		this.clock = clock;
	}

	/** One line of the history. */
	record Version(int number, String at, @Nullable String by, @Nullable Integer days, @Nullable String subject,
			@Nullable String body) {
	}

	@GetMapping("/setup/reminders")
	ModelAndView ask() {
		var current = this.settings.current();
		var page = page(HttpStatus.OK).addObject("form", form(current));
		return current.isOn() ? withPreview(page, current) : page;
	}

	@PostMapping("/setup/reminders")
	ModelAndView save(@Valid @ModelAttribute("form") ReminderForm form, BindingResult errors,
			@RequestParam(required = false) @Nullable String preview, RedirectAttributes flash) {
		form.check(this.mail.clinic(), errors);
		if (errors.hasErrors()) {
			return page(HttpStatus.UNPROCESSABLE_CONTENT);
		}
		if (preview != null) {
			return withPreview(page(HttpStatus.OK), form.toSettings());
		}
		flash.addFlashAttribute("notice", this.settings.save(form.toSettings()) ? "appointment.reminders.saved"
				: "appointment.reminders.nothing-new");
		return new ModelAndView("redirect:/setup/reminders");
	}

	/** Where the clinic has set no words yet, some to begin with. */
	private ReminderForm form(ReminderSettings current) {
		return (current.subject() == null && current.body() == null)
				? new ReminderForm(current.number(), null, this.pages.say("appointment.reminders.suggested.subject"),
						this.pages.say("appointment.reminders.suggested.body"))
				: new ReminderForm(current.number(), Objects.toString(current.days(), ""), current.subject(),
						current.body());
	}

	private ModelAndView withPreview(ModelAndView page, ReminderSettings shown) {
		var days = (shown.days() != null) ? shown.days() : EXAMPLE_DAYS;
		return page.addObject("preview", shown.write(this.times.today().plusDays(days), EXAMPLE, this.mail.clinic()));
	}

	private ModelAndView page(HttpStatus status) {
		return new ModelAndView("appointment/reminders", status).addObject("on", this.settings.current().isOn())
			.addObject("clinic", this.mail.clinic())
			.addObject("healthWords", String.join(", ", HealthWords.LIST))
			.addObject("history", history());
	}

	private List<Version> history() {
		return this.settings.history().stream().map((saved) -> {
			var by = saved.recorded().recordedBy();
			return new Version(saved.settings().number(),
					Written.time(saved.recorded().recordedAt(), this.clock.getZone()),
					(by != null) ? this.staff.byId(by).map(StaffMember::name).orElse(null) : null,
					saved.settings().days(), saved.settings().subject(), saved.settings().body());
		}).toList();
	}

}
