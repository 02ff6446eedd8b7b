package org.seriatim.finding.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.finding.Channel;
import org.seriatim.finding.Reporter;
import org.seriatim.finding.domain.Contact;
import org.seriatim.finding.ContactId;
import org.seriatim.finding.domain.EntryRefused;
import org.seriatim.finding.domain.Finding;
import org.seriatim.finding.domain.RaiseRedFlag;
import org.seriatim.finding.domain.RecordContact;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A contact after a session is recorded and corrected. */
@Controller
@ConditionalOnWebApplication
class ContactController {

	private final RecordContact contacts;

	private final RaiseRedFlag raise;

	private final TreatmentHistory treatment;

	private final ContactPages pages;

	private final PatientDirectory patients;

	private final Refusals refusals;

	private final CurrentStaff staff;

	private final Clock clock;

	ContactController(RecordContact contacts, RaiseRedFlag raise, TreatmentHistory treatment, ContactPages pages,
			PatientDirectory patients, Refusals refusals, CurrentStaff staff, Clock clock) {
		this.contacts = contacts;
		this.raise = raise;
		this.treatment = treatment;
		this.pages = pages;
		this.patients = patients;
		this.refusals = refusals;
		this.staff = staff;
		this.clock = clock;
	}

	@GetMapping("/sessions/{session}/contacts/new")
	ModelAndView askForNew(@PathVariable SessionId session) {
		var known = existing(session);
		this.patients.open(known.patient());
		var lumps = lumps(known);
		return this.pages.form(known, null, lumps, HttpStatus.OK)
			.addObject("form", ContactForm.empty(LocalDate.now(this.clock), lumps));
	}

	@PostMapping("/sessions/{session}/contacts/new")
	ModelAndView record(@PathVariable SessionId session, @Valid @ModelAttribute("form") ContactForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var known = existing(session);
		// first, and by itself: nothing that is refused below may hold it up
		raise(known, form);
		if (!errors.hasErrors()) {
			try {
				this.contacts.after(session, form.toDetails(), form.toAnswers());
				flash.addFlashAttribute("notice", "finding.contact.recorded");
				return new ModelAndView("redirect:" + next(known, form));
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return refused(known, null, form, errors);
	}

	@GetMapping("/contacts/{contact}/edit")
	ModelAndView askForCorrection(@PathVariable ContactId contact) {
		var recorded = existing(contact);
		var session = existing(recorded.session());
		this.patients.open(session.patient());
		return this.pages.form(session, recorded, List.of(), HttpStatus.OK)
			.addObject("form", ContactForm.from(recorded));
	}

	@PostMapping("/contacts/{contact}/edit")
	ModelAndView correct(@PathVariable ContactId contact, @Valid @ModelAttribute("form") ContactForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var recorded = existing(contact);
		var session = existing(recorded.session());
		raise(session, form);
		if (form.reason() == null) {
			errors.rejectValue("reason", "finding.reason.missing");
		}
		if (!errors.hasErrors()) {
			try {
				this.contacts.correct(contact, form.version(), form.toDetails(), Objects.requireNonNull(form.reason()));
				flash.addFlashAttribute("notice", "finding.contact.corrected");
				return new ModelAndView("redirect:" + next(session, form));
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return refused(session, recorded, form, errors);
	}

	private void raise(RecordedSession session, ContactForm form) {
		if (form.isAlarming()) {
			this.raise.of(session.patient(), Objects.requireNonNull(form.signs()), Reporter.PATIENT,
					(form.channel() != null) ? form.channel() : Channel.PHONE);
		}
	}

	/*
	 * Where to turn now: to the caution, to the lump that was told of and is not on
	 * record, or back to the patient.
	 */
	private String next(RecordedSession session, ContactForm form) {
		if (form.isAlarming()) {
			return "/patients/" + session.patient() + "/emergency";
		}
		if (Boolean.TRUE.equals(form.lumpsPresent()) && mayReport() && this.contacts.lumpsToAskFor(session).isEmpty()) {
			return "/patients/" + session.patient() + "/findings/new?session=" + session.id();
		}
		return "/patients/" + session.patient();
	}

	private boolean mayReport() {
		return this.staff.has(Role.PRACTITIONER) || this.staff.has(Role.CLINIC_LEAD);
	}

	/* Findings are not for the front desk, which asks only whether there is any lump. */
	private List<Finding> lumps(RecordedSession session) {
		return (mayReport() || this.staff.has(Role.ASSISTANT)) ? this.contacts.lumpsToAskFor(session) : List.of();
	}

	private ModelAndView refused(RecordedSession session, @Nullable Contact recorded, ContactForm form,
			BindingResult errors) {
		var lumps = (recorded != null) ? List.<Finding>of() : lumps(session);
		var page = this.pages.form(session, recorded, lumps, HttpStatus.UNPROCESSABLE_CONTENT);
		var typed = form.again(lumps);
		return page.addObject("form", typed)
			.addObject(BindingResult.MODEL_KEY_PREFIX + "form", FindingPages.errorsOf(typed, errors));
	}

	private RecordedSession existing(SessionId session) {
		return this.treatment.session(session).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

	private Contact existing(ContactId contact) {
		return this.contacts.byId(contact).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
