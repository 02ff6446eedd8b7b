package org.seriatim.contactlink.web;

import java.util.Comparator;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.UnknownAddresses;
import org.seriatim.assessment.Region;
import org.seriatim.contactlink.domain.ContactLinks;
import org.seriatim.contactlink.domain.KeepLinkSettings;
import org.seriatim.contactlink.domain.LinkAnswer;
import org.seriatim.contactlink.domain.LinkSettings;
import org.seriatim.contactlink.domain.MailChoices;
import org.seriatim.contactlink.domain.Outbox;
import org.seriatim.contactlink.domain.PatientLink;
import org.seriatim.contactlink.domain.TakeAnswer;
import org.seriatim.contactlink.domain.TakeAnswer.Outcome;
import org.seriatim.finding.PatientReport.Lumps;
import org.seriatim.finding.RedFlagSign;
import org.seriatim.shell.Choice;
import org.seriatim.shell.DecimalText;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.context.MessageSource;
import org.springframework.dao.OptimisticLockingFailureException;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;

/**
 * What a patient sees at home. No page of it says anything of a patient, and all say at
 * their head where to turn in an emergency, whatever else is wrong with the link. The
 * address is the secret, so that nothing else is asked for: no sign-in, no cookie, no
 * script.
 */
@Controller
@ConditionalOnWebApplication
class AnswerController {

	private static final int MOST_TRIES = 3;

	private final ContactLinks links;

	private final TakeAnswer answers;

	private final MailChoices choices;

	private final Outbox outbox;

	private final KeepLinkSettings settings;

	private final UnknownAddresses unknown;

	private final MessageSource messages;

	AnswerController(ContactLinks links, TakeAnswer answers, MailChoices choices, Outbox outbox,
			KeepLinkSettings settings, UnknownAddresses unknown, MessageSource messages) {
		this.links = links;
		this.answers = answers;
		this.choices = choices;
		this.outbox = outbox;
		this.settings = settings;
		this.unknown = unknown;
		this.messages = messages;
	}

	/**
	 * What the clinic says on every page.
	 *
	 * @param emergencyCall the number as an address that a telephone dials
	 */
	record Said(@Nullable String clinic, @Nullable String phone, @Nullable String call, @Nullable String emergencyText,
			@Nullable String emergencyPhone, @Nullable String emergencyCall, @Nullable String readingTimes) {

		static Said of(LinkSettings settings) {
			return new Said(settings.clinicName(), settings.clinicPhone(), dialled(settings.clinicPhone()),
					settings.emergencyText(), settings.emergencyPhone(), dialled(settings.emergencyPhone()),
					settings.readingTimes());
		}

		/* RFC 3966: figures, and a plus before them. */
		private static @Nullable String dialled(@Nullable String number) {
			return (number != null) ? "tel:" + number.strip().replaceAll("(?!^\\+)[^0-9]", "") : null;
		}

	}

	@GetMapping("/answer/{token}")
	ModelAndView ask(@PathVariable String token, HttpServletRequest request, HttpServletResponse response) {
		keepPrivate(response);
		var link = this.links.bySecret(token);
		if (link.filter(PatientLink::open).isEmpty()) {
			return closed(link, request, response);
		}
		return form(token, HttpStatus.OK, false).addObject("form", AnswerForm.empty());
	}

	@PostMapping("/answer/{token}")
	ModelAndView take(@PathVariable String token, @Valid @ModelAttribute("form") AnswerForm form, BindingResult errors,
			Locale locale, HttpServletRequest request, HttpServletResponse response) {
		keepPrivate(response);
		var found = this.links.bySecret(token);
		if (found.filter(PatientLink::open).isEmpty()) {
			return closed(found, request, response);
		}
		var link = found.get();
		var id = form.id();
		var alarming = !form.toldSigns().isEmpty();
		// first, and by itself: nothing that is refused below may hold it up
		this.answers.alarm(link, id, form.toldSigns());
		if (!errors.hasErrors() && form.isEmpty()) {
			errors.reject("contactlink.answer.empty");
		}
		if (errors.hasErrors()) {
			return form(token, HttpStatus.UNPROCESSABLE_CONTENT, alarming).addObject("form", form);
		}
		var outcome = taken(link, new LinkAnswer(id, form.toldSigns(), form.lumps(), form.named(),
				DecimalText.whole(form.painNrs()), form.said(), note(form, locale)));
		return switch (outcome) {
			case TAKEN, KNOWN -> page("contactlink/answered", HttpStatus.OK).addObject("alarming", alarming)
				.addObject("address", "/answer/" + token);
			case OVER -> closed(found, request, response);
			case TOO_MANY -> page("contactlink/closed", HttpStatus.TOO_MANY_REQUESTS);
		};
	}

	/* Somebody of the clinic may correct the same contact at that moment. */
	private Outcome taken(PatientLink link, LinkAnswer answer) {
		for (var tries = 1;; tries++) {
			try {
				return this.answers.take(link, answer);
			}
			catch (OptimisticLockingFailureException ex) {
				if (tries == MOST_TRIES) {
					throw ex;
				}
			}
		}
	}

	/** The page that mail leads to for who wants no more of it. */
	@GetMapping("/answer/{token}/no-mail")
	ModelAndView askForNoMail(@PathVariable String token, HttpServletRequest request, HttpServletResponse response) {
		keepPrivate(response);
		var link = this.links.bySecret(token);
		if (link.isEmpty()) {
			return closed(link, request, response);
		}
		return page("contactlink/no-mail", HttpStatus.OK).addObject("done", false)
			.addObject("address", "/answer/" + token + "/no-mail");
	}

	/* Also from a link that is over: who wants no mail need not look for a newer one. */
	@PostMapping("/answer/{token}/no-mail")
	ModelAndView noMail(@PathVariable String token, HttpServletRequest request, HttpServletResponse response) {
		keepPrivate(response);
		var link = this.links.bySecret(token);
		if (link.isEmpty()) {
			return closed(link, request, response);
		}
		this.choices.choose(link.get().patient(), true, MailChoices.By.PATIENT);
		return page("contactlink/no-mail", HttpStatus.OK).addObject("done", true)
			.addObject("address", "/answer/" + token + "/no-mail");
	}

	/** The page that a reminder leads to for who wants no more of them. */
	@GetMapping("/answer/no-reminders/{token}")
	ModelAndView askForNoReminders(@PathVariable String token, HttpServletRequest request,
			HttpServletResponse response) {
		keepPrivate(response);
		if (this.outbox.patientOfReminder(token).isEmpty()) {
			return closed(Optional.empty(), request, response);
		}
		return noRemindersPage(token, false);
	}

	@PostMapping("/answer/no-reminders/{token}")
	ModelAndView noReminders(@PathVariable String token, HttpServletRequest request, HttpServletResponse response) {
		keepPrivate(response);
		var patient = this.outbox.patientOfReminder(token);
		if (patient.isEmpty()) {
			return closed(Optional.empty(), request, response);
		}
		this.choices.chooseReminders(patient.get(), true, MailChoices.By.PATIENT);
		return noRemindersPage(token, true);
	}

	private ModelAndView noRemindersPage(String token, boolean done) {
		return page("contactlink/no-reminders", HttpStatus.OK).addObject("done", done)
			.addObject("address", "/answer/no-reminders/" + token);
	}

	/*
	 * The same page for a link that never was and for one that is over; the status tells
	 * them apart to whoever holds the secret, and to nobody else.
	 */
	private ModelAndView closed(Optional<PatientLink> link, HttpServletRequest request, HttpServletResponse response) {
		if (link.isPresent()) {
			return page("contactlink/closed", HttpStatus.GONE);
		}
		var wait = this.unknown.asked(request.getRemoteAddr());
		if (wait.isZero()) {
			return page("contactlink/closed", HttpStatus.NOT_FOUND);
		}
		response.setHeader(HttpHeaders.RETRY_AFTER, Long.toString(wait.toSeconds() + 1));
		return page("contactlink/closed", HttpStatus.TOO_MANY_REQUESTS);
	}

	private ModelAndView form(String token, HttpStatus status, boolean alarming) {
		return page("contactlink/answer", status).addObject("alarming", alarming)
			.addObject("address", "/answer/" + token)
			.addObject("signs", Choice.ofWords("contactlink.sign", RedFlagSign.values()))
			.addObject("lumps", Choice.ofWords("contactlink.lumps", Lumps.values()))
			.addObject("regions", Choice.ofWords("contactlink.region", Region.values()))
			.addObject("mirror", FaceInTheMirror.whole())
			.addObject("pains",
					IntStream.rangeClosed(0, 10)
						.mapToObj((pain) -> new Choice(Integer.toString(pain), Integer.toString(pain)))
						.toList());
	}

	private ModelAndView page(String view, HttpStatus status) {
		return new ModelAndView(view, status).addObject("said", Said.of(this.settings.current()));
	}

	/** What goes into the contact in words, for who reads it. */
	private @Nullable String note(AnswerForm form, Locale locale) {
		var where = form.named()
			.stream()
			.sorted(Comparator.naturalOrder())
			.map((region) -> this.messages.getMessage("region." + region.word(), null, locale))
			.collect(Collectors.joining(", "));
		var note = Stream.of(
				(form.lumps() == Lumps.UNSURE) ? this.messages.getMessage("contactlink.note.unsure", null, locale)
						: null,
				where.isEmpty() ? null
						: this.messages.getMessage("contactlink.note.where", new Object[] { where }, locale),
				form.said())
			.filter((part) -> part != null)
			.collect(Collectors.joining("\n"));
		return note.isEmpty() ? null : note;
	}

	private static void keepPrivate(HttpServletResponse response) {
		response.setHeader("Referrer-Policy", "no-referrer");
		response.setHeader("X-Robots-Tag", "noindex, nofollow, noarchive");
		response.setHeader(HttpHeaders.CACHE_CONTROL, "no-store");
	}

}
