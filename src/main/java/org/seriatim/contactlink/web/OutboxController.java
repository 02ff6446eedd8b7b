package org.seriatim.contactlink.web;

import java.util.UUID;

import org.seriatim.contactlink.domain.KeepLinkSettings;
import org.seriatim.contactlink.domain.Outbox;
import org.seriatim.contactlink.domain.OutboxMessage;
import org.seriatim.contactlink.domain.OutboxTexts;
import org.seriatim.contactlink.domain.SendOutbox;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.shell.Paged;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Mail to patients: what waits, what went, what did not, and what it says. */
@Controller
@ConditionalOnWebApplication
class OutboxController {

	private static final int PAGE_SIZE = 50;

	private final Outbox outbox;

	private final SendOutbox sending;

	private final OutboxTexts texts;

	private final KeepLinkSettings settings;

	private final PatientDirectory patients;

	private final OutboxWording wording;

	OutboxController(Outbox outbox, SendOutbox sending, OutboxTexts texts, KeepLinkSettings settings,
			PatientDirectory patients, OutboxWording wording) {
		this.outbox = outbox;
		this.sending = sending;
		this.texts = texts;
		this.settings = settings;
		this.patients = patients;
		this.wording = wording;
	}

	@GetMapping("/outbox")
	ModelAndView list(@RequestParam(defaultValue = "1") int page) {
		var total = this.outbox.counts().stream().mapToInt(Outbox.Count::messages).sum();
		var pages = Math.max(1, (total + PAGE_SIZE - 1) / PAGE_SIZE);
		var shown = Math.max(1, Math.min(page, pages));
		var rows = this.outbox.page((shown - 1) * PAGE_SIZE, PAGE_SIZE).stream().map(this.wording::line).toList();
		return new ModelAndView("contactlink/outbox").addObject("paged", new Paged<>(rows, shown, PAGE_SIZE, total))
			.addObject("isSetUp", this.sending.isSetUp());
	}

	@GetMapping("/outbox/{message}")
	ModelAndView show(@PathVariable UUID message) {
		var known = existing(message);
		this.patients.open(known.patient());
		var text = this.texts.of(known);
		return new ModelAndView("contactlink/message").addObject("mail", this.wording.line(known))
			.addObject("sender", this.settings.current().sender())
			.addObject("mailText", text.orElse(null));
	}

	@PostMapping("/outbox/{message}/again")
	ModelAndView again(@PathVariable UUID message, RedirectAttributes flash) {
		existing(message);
		flash.addFlashAttribute("notice",
				this.outbox.again(message) ? "contactlink.outbox.waits-again" : "contactlink.outbox.not-failed");
		return new ModelAndView("redirect:/outbox/" + message);
	}

	private OutboxMessage existing(UUID message) {
		return this.outbox.byId(message).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
