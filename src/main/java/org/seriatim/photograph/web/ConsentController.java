package org.seriatim.photograph.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.Locale;
import java.util.Objects;

import jakarta.validation.Valid;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.photograph.Purpose;
import org.seriatim.photograph.domain.Consent;
import org.seriatim.photograph.domain.ConsentId;
import org.seriatim.photograph.domain.EntryRefused;
import org.seriatim.photograph.domain.KeepConsent;
import org.seriatim.shell.Choice;
import org.seriatim.shell.Written;
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

/** What a patient allows photographs to be used for is recorded, and its withdrawal. */
@Controller
@ConditionalOnWebApplication
class ConsentController {

	private final KeepConsent consents;

	private final PatientDirectory patients;

	private final PhotographPages pages;

	private final PhotographRefusals refusals;

	private final Clock clock;

	ConsentController(KeepConsent consents, PatientDirectory patients, PhotographPages pages,
			PhotographRefusals refusals, Clock clock) {
		this.consents = consents;
		this.patients = patients;
		this.pages = pages;
		this.refusals = refusals;
		this.clock = clock;
	}

	/**
	 * A consent as the page lists it.
	 *
	 * @param note what was said with it
	 */
	record Line(String id, String purpose, String given, String withdrawn, String note, boolean inForce) {
	}

	@GetMapping("/patients/{patient}/photographs/consent")
	ModelAndView show(@PathVariable PatientId patient) {
		this.patients.open(patient);
		return page(patient, HttpStatus.OK).addObject("form", new ConsentForm(null, LocalDate.now(this.clock), null));
	}

	@PostMapping("/patients/{patient}/photographs/consent")
	ModelAndView give(@PathVariable PatientId patient, @Valid @ModelAttribute("form") ConsentForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		this.patients.requireExisting(patient);
		if (!errors.hasErrors()) {
			try {
				this.consents.give(patient, Objects.requireNonNull(form.purpose()),
						Objects.requireNonNull(form.givenOn()), form.consentNote());
				flash.addFlashAttribute("notice", "photograph.consent.given");
				return new ModelAndView("redirect:/patients/" + patient + "/photographs/consent");
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return page(patient, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private ModelAndView page(PatientId patient, HttpStatus status) {
		return new ModelAndView("photograph/consent", status)
			.addObject("patient", this.patients.requireExisting(patient))
			.addObject("purposes", Choice.ofWords("photograph-purpose", Purpose.values()))
			.addObject("consents", this.consents.of(patient).stream().map(this::line).toList())
			.addObject("today", LocalDate.now(this.clock));
	}

	private Line line(Consent consent) {
		return new Line(consent.id().toString(), this.pages.word("photograph-purpose", consent.purpose().word()),
				Written.day(consent.givenOn()),
				(consent.withdrawnOn() != null) ? Written.day(consent.withdrawnOn()) : "–",
				Objects.requireNonNullElse(consent.note(), "–"), consent.isInForce());
	}

	@GetMapping("/photograph-consents/{consent}/withdraw")
	ModelAndView askForWithdrawal(@PathVariable ConsentId consent) {
		var known = existing(consent);
		this.patients.open(known.patient());
		return withdrawal(known, HttpStatus.OK).addObject("form", new WithdrawalForm(LocalDate.now(this.clock), null));
	}

	@PostMapping("/photograph-consents/{consent}/withdraw")
	ModelAndView withdraw(@PathVariable ConsentId consent, @Valid @ModelAttribute("form") WithdrawalForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var known = existing(consent);
		if (!errors.hasErrors()) {
			try {
				this.consents.withdraw(consent, Objects.requireNonNull(form.withdrawnOn()),
						Objects.requireNonNull(form.reason()));
				flash.addFlashAttribute("notice", "photograph.consent.withdrawn");
				return new ModelAndView("redirect:/patients/" + known.patient() + "/photographs/consent");
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return withdrawal(known, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private ModelAndView withdrawal(Consent consent, HttpStatus status) {
		return new ModelAndView("photograph/withdrawal", status)
			.addObject("patient", this.patients.requireExisting(consent.patient()))
			.addObject("consent", line(consent))
			.addObject("care", consent.purpose() == Purpose.CARE)
			.addObject("today", LocalDate.now(this.clock));
	}

	private Consent existing(ConsentId consent) {
		return this.consents.byId(consent).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
