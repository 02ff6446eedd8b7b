package org.seriatim.contactlink.web;

import java.time.Clock;
import java.util.List;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffMember;
import org.seriatim.contactlink.domain.KeepLinkSettings;
import org.seriatim.contactlink.domain.SendOutbox;
import org.seriatim.shell.Written;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Setup: what the clinic says to patients who answer by a link. */
@Controller
@ConditionalOnWebApplication
class LinkSettingsController {

	private final KeepLinkSettings settings;

	private final SendOutbox sending;

	private final StaffDirectory staff;

	private final Clock clock;

	LinkSettingsController(KeepLinkSettings settings, SendOutbox sending, StaffDirectory staff, Clock clock) {
		this.settings = settings;
		this.sending = sending;
		this.staff = staff;
		this.clock = clock;
	}

	/** One line of the history. */
	record Version(int number, String at, @Nullable String by, @Nullable String emergencyText,
			@Nullable String emergencyPhone, @Nullable String readingTimes) {
	}

	@GetMapping("/setup/contact-links")
	ModelAndView ask() {
		return page(HttpStatus.OK).addObject("form", LinkSettingsForm.from(this.settings.current()));
	}

	@PostMapping("/setup/contact-links")
	ModelAndView save(@Valid @ModelAttribute("form") LinkSettingsForm form, BindingResult errors,
			RedirectAttributes flash) {
		form.check(errors);
		if (errors.hasErrors()) {
			return page(HttpStatus.UNPROCESSABLE_CONTENT);
		}
		flash.addFlashAttribute("notice", this.settings.save(form.toSettings()) ? "contactlink.settings.saved"
				: "contactlink.settings.nothing-new");
		return new ModelAndView("redirect:/setup/contact-links");
	}

	private ModelAndView page(HttpStatus status) {
		return new ModelAndView("contactlink/settings", status)
			.addObject("missing", this.settings.current().missing().stream().map(OutboxWording::key).toList())
			.addObject("mailIsSetUp", this.sending.isSetUp())
			.addObject("history", history());
	}

	private List<Version> history() {
		return this.settings.history().stream().map((saved) -> {
			var by = saved.recorded().recordedBy();
			return new Version(saved.settings().number(),
					Written.time(saved.recorded().recordedAt(), this.clock.getZone()),
					(by != null) ? this.staff.byId(by).map(StaffMember::name).orElse(null) : null,
					saved.settings().emergencyText(), saved.settings().emergencyPhone(),
					saved.settings().readingTimes());
		}).toList();
	}

}
