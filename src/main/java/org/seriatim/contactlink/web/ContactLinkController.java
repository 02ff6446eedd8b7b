package org.seriatim.contactlink.web;

import java.time.Clock;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.contactlink.domain.ContactLinks;
import org.seriatim.contactlink.domain.KeepLinkSettings;
import org.seriatim.contactlink.domain.MailChoices;
import org.seriatim.contactlink.domain.MailPurpose;
import org.seriatim.contactlink.domain.NoLinkPossible;
import org.seriatim.contactlink.domain.Outbox;
import org.seriatim.contactlink.domain.PatientLink;
import org.seriatim.contactlink.domain.SendOutbox;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.Written;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A patient's link: made, copied, taken back; and whether mail is wanted. */
@Controller
@ConditionalOnWebApplication
class ContactLinkController {

	private final ContactLinks links;

	private final KeepLinkSettings settings;

	private final MailChoices choices;

	private final Outbox outbox;

	private final SendOutbox sending;

	private final PatientDirectory patients;

	private final StaffDirectory staff;

	private final OutboxWording wording;

	private final Clock clock;

	ContactLinkController(ContactLinks links, KeepLinkSettings settings, MailChoices choices, Outbox outbox,
			SendOutbox sending, PatientDirectory patients, StaffDirectory staff, OutboxWording wording, Clock clock) {
		this.links = links;
		this.settings = settings;
		this.choices = choices;
		this.outbox = outbox;
		this.sending = sending;
		this.patients = patients;
		this.staff = staff;
		this.wording = wording;
		this.clock = clock;
	}

	/**
	 * A link as the page shows it.
	 *
	 * @param address to be copied; none once it no longer opens
	 */
	record LinkLine(@Nullable String address, String made, @Nullable String by, String expires, int answers) {
	}

	@GetMapping("/patients/{patient}/contact-link")
	ModelAndView show(@PathVariable PatientId patient) {
		this.patients.open(patient);
		return page(patient, HttpStatus.OK);
	}

	@PostMapping("/patients/{patient}/contact-link")
	ModelAndView make(@PathVariable PatientId patient, RedirectAttributes flash) {
		this.patients.requireExisting(patient);
		try {
			this.links.make(patient);
		}
		catch (NoLinkPossible ex) {
			return page(patient, HttpStatus.UNPROCESSABLE_CONTENT);
		}
		return done(patient, flash, "contactlink.link.made");
	}

	@PostMapping("/patients/{patient}/contact-link/revoke")
	ModelAndView revoke(@PathVariable PatientId patient, RedirectAttributes flash) {
		this.patients.requireExisting(patient);
		this.links.revoke(patient);
		return done(patient, flash, "contactlink.link.revoked");
	}

	@PostMapping("/patients/{patient}/contact-link/mail")
	ModelAndView choose(@PathVariable PatientId patient, @RequestParam(defaultValue = "true") boolean wanted,
			RedirectAttributes flash) {
		this.patients.requireExisting(patient);
		this.choices.choose(patient, !wanted, MailChoices.By.STAFF);
		return done(patient, flash, "contactlink.mail.chosen");
	}

	@PostMapping("/patients/{patient}/contact-link/reminders")
	ModelAndView chooseReminders(@PathVariable PatientId patient, @RequestParam(defaultValue = "true") boolean wanted,
			RedirectAttributes flash) {
		this.patients.requireExisting(patient);
		this.choices.chooseReminders(patient, !wanted, MailChoices.By.STAFF);
		return done(patient, flash, "contactlink.mail.chosen");
	}

	private static ModelAndView done(PatientId patient, RedirectAttributes flash, String notice) {
		flash.addFlashAttribute("notice", notice);
		return new ModelAndView("redirect:/patients/" + patient + "/contact-link");
	}

	private ModelAndView page(PatientId id, HttpStatus status) {
		var patient = this.patients.requireExisting(id);
		var link = this.links.current(id).orElse(null);
		return new ModelAndView("contactlink/link", status).addObject("patient", patient)
			.addObject("missing", this.settings.current().missing().stream().map(OutboxWording::key).toList())
			.addObject("treated",
					this.links.lastSession(id).map((session) -> Written.day(session.treatedOn())).orElse(null))
			.addObject("link", (link != null) ? line(link) : null)
			.addObject("optedOut", this.choices.hasOptedOut(id))
			.addObject("noReminders", this.choices.refuses(id, MailPurpose.REMINDER))
			.addObject("choice", this.choices.entryOf(id).orElse(null))
			.addObject("mailIsSetUp", this.sending.isSetUp())
			.addObject("mail", this.outbox.latestTo(id).map(this.wording::line).orElse(null));
	}

	private LinkLine line(PatientLink link) {
		return new LinkLine(link.open() ? this.links.addressOf(link.id()) : null,
				Written.time(link.madeAt(), this.clock.getZone()), name(link.madeBy()),
				Written.time(link.expiresAt(), this.clock.getZone()), link.answers());
	}

	private @Nullable String name(@Nullable StaffId id) {
		return (id != null) ? this.staff.byId(id).map(StaffMember::name).orElse(null) : null;
	}

}
