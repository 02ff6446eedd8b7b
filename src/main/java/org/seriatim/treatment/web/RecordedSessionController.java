package org.seriatim.treatment.web;

import java.util.Locale;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.TreatmentHistory;
import org.seriatim.treatment.domain.RecordSession;
import org.seriatim.treatment.domain.SessionRefused;
import org.seriatim.treatment.web.SessionSheet.Sheet;
import org.seriatim.treatment.web.SessionSheet.Use;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestHeader;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A session on record: shown, and corrected with a reason. */
@Controller
@ConditionalOnWebApplication
class RecordedSessionController {

	private static final String EDIT = "/sessions/{session}/edit";

	private final RecordSession recordSession;

	private final TreatmentHistory history;

	private final SessionSheet sheets;

	private final SessionPages pages;

	RecordedSessionController(RecordSession recordSession, TreatmentHistory history, SessionSheet sheets,
			SessionPages pages) {
		this.recordSession = recordSession;
		this.history = history;
		this.sheets = sheets;
		this.pages = pages;
	}

	@GetMapping("/sessions/{session}")
	ModelAndView show(@PathVariable SessionId session, Locale locale) {
		return this.pages.page(existing(session), this.sheets.mayRecord(), locale);
	}

	@GetMapping(EDIT)
	ModelAndView ask(@PathVariable SessionId session, Locale locale) {
		var recorded = existing(session);
		var form = SessionForm.from(recorded, this.recordSession.versionOf(session).orElseThrow(), this.sheets.zone());
		return this.sheets.page(sheet(recorded), form, this.sheets.errors(form, null), HttpStatus.OK, locale);
	}

	@PostMapping(path = EDIT, params = "change")
	ModelAndView change(@PathVariable SessionId session, @ModelAttribute("form") SessionForm form, BindingResult errors,
			@RequestParam String change, @RequestHeader(name = "HX-Request", required = false) @Nullable String partial,
			Locale locale) {
		return this.sheets.changed(sheet(existing(session)), form, errors, change, partial != null, locale);
	}

	@PostMapping(EDIT)
	ModelAndView correct(@PathVariable SessionId session, @Valid @ModelAttribute("form") SessionForm form,
			BindingResult bound, RedirectAttributes flash, Locale locale) {
		var sheet = sheet(existing(session));
		var errors = this.sheets.errors(form, bound);
		this.sheets.check(form, sheet, errors);
		if (!errors.hasErrors()) {
			try {
				this.recordSession.correct(session, form.version(), form.toDetails(this.sheets.zone()),
						String.valueOf(form.reason()));
				flash.addFlashAttribute("notice", "treatment.session.corrected");
				return new ModelAndView("redirect:/sessions/" + session);
			}
			catch (SessionRefused ex) {
				this.sheets.reject(ex, form, errors);
			}
		}
		return this.sheets.page(sheet, form, errors, HttpStatus.UNPROCESSABLE_CONTENT, locale);
	}

	private Sheet sheet(RecordedSession session) {
		return new Sheet(Use.CORRECTION, "/sessions/" + session.id() + "/edit",
				this.history.series(session.series()).orElseThrow(), session);
	}

	private RecordedSession existing(SessionId session) {
		return this.history.session(session).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
