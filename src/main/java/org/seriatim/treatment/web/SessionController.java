package org.seriatim.treatment.web;

import java.util.List;
import java.util.Locale;
import java.util.UUID;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffMember;
import org.seriatim.shell.Written;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.TreatmentHistory;
import org.seriatim.treatment.domain.DraftId;
import org.seriatim.treatment.domain.RecordSession;
import org.seriatim.treatment.domain.SessionDrafts;
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

/** A new session: recorded by a practitioner, kept as a draft for an assistant. */
@Controller
@ConditionalOnWebApplication
class SessionController {

	private static final String NEW = "/series/{series}/sessions/new";

	private final RecordSession recordSession;

	private final TreatmentHistory history;

	private final SessionDrafts drafts;

	private final SessionSheet sheets;

	private final DraftContent content;

	private final StaffDirectory staff;

	SessionController(RecordSession recordSession, TreatmentHistory history, SessionDrafts drafts, SessionSheet sheets,
			DraftContent content, StaffDirectory staff) {
		this.recordSession = recordSession;
		this.history = history;
		this.drafts = drafts;
		this.sheets = sheets;
		this.content = content;
		this.staff = staff;
	}

	/** A draft that is open. */
	record Begun(DraftId id, String writtenBy, String writtenAt) {
	}

	@GetMapping(NEW)
	ModelAndView ask(@PathVariable SeriesId series, @RequestParam(required = false) @Nullable String paper,
			Locale locale) {
		var sheet = sheet(series);
		var number = this.recordSession.nextNumber(series);
		if (paper == null) {
			var screening = this.sheets.screening(sheet.series());
			if (!screening.stopping().isEmpty()) {
				return this.sheets.notCleared(sheet.series(), screening, locale);
			}
		}
		var form = (paper == null) ? this.sheets.started(sheet.series(), number) : this.sheets.fromPaper(number);
		return this.sheets.page(sheet, form, this.sheets.errors(form, null), HttpStatus.OK, locale)
			.addObject("begun", begun(series));
	}

	@PostMapping(path = NEW, params = "change")
	ModelAndView change(@PathVariable SeriesId series, @ModelAttribute("form") SessionForm form, BindingResult errors,
			@RequestParam String change, @RequestHeader(name = "HX-Request", required = false) @Nullable String partial,
			Locale locale) {
		return this.sheets.changed(sheet(series), form, errors, change, partial != null, locale);
	}

	/** What the page saves by itself while somebody types. */
	@PostMapping(path = NEW, params = "save")
	ModelAndView save(@PathVariable SeriesId series, @ModelAttribute("form") SessionForm form, BindingResult errors,
			@RequestParam UUID page, Locale locale) {
		var sheet = sheet(series);
		var saved = this.drafts.save(sheet.series(), page, this.content.written(form));
		return this.sheets.saved(sheet, form, saved, errors, locale);
	}

	@PostMapping(path = NEW, params = "draft")
	ModelAndView keepAsDraft(@PathVariable SeriesId series, @ModelAttribute("form") SessionForm form,
			BindingResult errors, RedirectAttributes flash) {
		var draft = this.drafts.write(sheet(series).series(), this.content.written(form));
		flash.addFlashAttribute("notice", "treatment.draft.kept");
		return new ModelAndView("redirect:/drafts/" + draft);
	}

	@PostMapping(NEW)
	ModelAndView record(@PathVariable SeriesId series, @Valid @ModelAttribute("form") SessionForm form,
			BindingResult bound, RedirectAttributes flash, Locale locale) {
		if (!this.sheets.mayRecord()) {
			return keepAsDraft(series, form, bound, flash);
		}
		var sheet = sheet(series);
		var errors = this.sheets.errors(form, bound);
		this.sheets.check(form, sheet, errors);
		if (!errors.hasErrors()) {
			try {
				var session = this.recordSession.in(series, form.toDetails(this.sheets.zone()));
				flash.addFlashAttribute("notice", "treatment.session.recorded");
				return new ModelAndView("redirect:/sessions/" + session);
			}
			catch (SessionRefused ex) {
				this.sheets.reject(ex, form, errors);
			}
		}
		return this.sheets.page(sheet, form, errors, HttpStatus.UNPROCESSABLE_CONTENT, locale);
	}

	/** Drafts of the series that were begun already, so that nobody types one twice. */
	private List<Begun> begun(SeriesId series) {
		return this.drafts.openOf(series)
			.stream()
			.map((draft) -> new Begun(draft.id(), this.staff.byId(draft.writtenBy()).map(StaffMember::name).orElse("–"),
					Written.time(draft.writtenAt(), this.sheets.zone())))
			.toList();
	}

	private Sheet sheet(SeriesId series) {
		var summary = this.history.series(series).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
		return new Sheet(Use.NEW, "/series/" + series + "/sessions/new", summary, null);
	}

}
