package org.seriatim.treatment.web;

import java.time.Clock;
import java.util.List;
import java.util.Locale;
import java.util.UUID;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffMember;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.shell.Written;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.TreatmentHistory;
import org.seriatim.treatment.domain.DraftId;
import org.seriatim.treatment.domain.DraftSettled;
import org.seriatim.treatment.domain.RecordSession;
import org.seriatim.treatment.domain.SessionDraft;
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

/**
 * Drafts of sessions. An assistant may go on writing one; a practitioner checks it and
 * records or discards it.
 */
@Controller
@ConditionalOnWebApplication
class DraftController {

	private static final String DRAFT = "/drafts/{draft}";

	private static final String LIST = "redirect:/drafts";

	private final SessionDrafts drafts;

	private final RecordSession recordSession;

	private final TreatmentHistory history;

	private final PatientDirectory patients;

	private final StaffDirectory staff;

	private final SessionSheet sheets;

	private final DraftContent content;

	private final Clock clock;

	DraftController(SessionDrafts drafts, RecordSession recordSession, TreatmentHistory history,
			PatientDirectory patients, StaffDirectory staff, SessionSheet sheets, DraftContent content, Clock clock) {
		this.drafts = drafts;
		this.recordSession = recordSession;
		this.history = history;
		this.patients = patients;
		this.staff = staff;
		this.sheets = sheets;
		this.content = content;
		this.clock = clock;
	}

	/** One line of the list. */
	record Row(DraftId id, String patient, String recordNumber, int series, @Nullable String session,
			@Nullable String treatedOn, String writtenBy, String writtenAt) {
	}

	@GetMapping("/drafts")
	ModelAndView list() {
		List<Row> rows = this.drafts.open().stream().map(this::row).toList();
		return new ModelAndView("treatment/drafts", "drafts", rows);
	}

	@GetMapping(DRAFT)
	ModelAndView ask(@PathVariable DraftId draft, Locale locale) {
		var kept = existing(draft);
		if (!kept.open()) {
			return settled(kept);
		}
		var form = this.content.read(kept.content()).withVersion(kept.version());
		return page(kept, form, this.sheets.errors(form, null), HttpStatus.OK, locale);
	}

	@PostMapping(path = DRAFT, params = "change")
	ModelAndView change(@PathVariable DraftId draft, @ModelAttribute("form") SessionForm form, BindingResult errors,
			@RequestParam String change, @RequestHeader(name = "HX-Request", required = false) @Nullable String partial,
			Locale locale) {
		var kept = existing(draft);
		return this.sheets.changed(sheet(kept), form, errors, change, partial != null, locale)
			.addObject("draft", row(kept));
	}

	/** What the page saves by itself while somebody types. */
	@PostMapping(path = DRAFT, params = "save")
	ModelAndView save(@PathVariable DraftId draft, @ModelAttribute("form") SessionForm form, BindingResult errors,
			@RequestParam UUID page, Locale locale) {
		var kept = existing(draft);
		try {
			var saved = this.drafts.save(kept.id(), form.version(), page, this.content.written(form));
			return this.sheets.saved(sheet(kept), form, saved, errors, locale);
		}
		catch (DraftSettled ex) {
			return new ModelAndView("treatment/draft-settled", HttpStatus.GONE).addObject("draft", row(existing(draft)))
				.addObject("series", kept.series());
		}
	}

	@PostMapping(path = DRAFT, params = "draft")
	ModelAndView keep(@PathVariable DraftId draft, @ModelAttribute("form") SessionForm form, BindingResult errors,
			@RequestParam(required = false) @Nullable UUID page, RedirectAttributes flash) {
		try {
			this.drafts.rewrite(existing(draft).id(), form.version(), page, this.content.written(form));
		}
		catch (DraftSettled ex) {
			return settled(existing(draft));
		}
		flash.addFlashAttribute("notice", "treatment.draft.kept");
		return new ModelAndView("redirect:/drafts/" + draft);
	}

	@PostMapping(DRAFT)
	ModelAndView record(@PathVariable DraftId draft, @Valid @ModelAttribute("form") SessionForm form,
			BindingResult bound, @RequestParam(required = false) @Nullable UUID page, RedirectAttributes flash,
			Locale locale) {
		var kept = existing(draft);
		if (!this.sheets.mayRecord()) {
			return bound.hasGlobalErrors()
					? page(kept, form, this.sheets.errors(form, bound), HttpStatus.UNPROCESSABLE_CONTENT, locale)
					: keep(draft, form, bound, page, flash);
		}
		var errors = this.sheets.errors(form, bound);
		this.sheets.check(form, sheet(kept), errors);
		if (!errors.hasErrors()) {
			try {
				var session = this.recordSession.fromDraft(draft, form.version(), page,
						form.toDetails(this.sheets.zone()));
				flash.addFlashAttribute("notice", "treatment.session.recorded");
				return new ModelAndView("redirect:/sessions/" + session);
			}
			catch (SessionRefused ex) {
				this.sheets.reject(ex, form, errors);
			}
			catch (DraftSettled ex) {
				return settled(existing(draft));
			}
		}
		return page(kept, form, errors, HttpStatus.UNPROCESSABLE_CONTENT, locale);
	}

	@PostMapping("/drafts/{draft}/discard")
	ModelAndView discard(@PathVariable DraftId draft, @RequestParam(required = false) @Nullable Long version,
			@RequestParam(required = false) @Nullable UUID page, RedirectAttributes flash) {
		try {
			this.drafts.discard(existing(draft).id(), version, page);
		}
		catch (DraftSettled ex) {
			return settled(existing(draft));
		}
		flash.addFlashAttribute("notice", "treatment.draft.discarded");
		return new ModelAndView(LIST);
	}

	private ModelAndView page(SessionDraft draft, SessionForm form, BindingResult errors, HttpStatus status,
			Locale locale) {
		return this.sheets.page(sheet(draft), form, errors, status, locale).addObject("draft", row(draft));
	}

	private ModelAndView settled(SessionDraft draft) {
		return new ModelAndView("treatment/draft-settled", HttpStatus.CONFLICT).addObject("draft", row(draft))
			.addObject("series", draft.series());
	}

	private Sheet sheet(SessionDraft draft) {
		return new Sheet(Use.DRAFT, "/drafts/" + draft.id(), series(draft), null);
	}

	private SeriesSummary series(SessionDraft draft) {
		return this.history.series(draft.series()).orElseThrow();
	}

	private Row row(SessionDraft draft) {
		var patient = this.patients.requireExisting(draft.patient());
		var form = this.content.read(draft.content());
		return new Row(draft.id(), patient.displayName(), patient.recordNumber(), series(draft).number(), form.number(),
				(form.treatedOn() != null) ? Written.day(form.treatedOn()) : null,
				this.staff.byId(draft.writtenBy()).map(StaffMember::name).orElse(""),
				Written.time(draft.writtenAt(), this.clock.getZone()));
	}

	private SessionDraft existing(DraftId draft) {
		return this.drafts.byId(draft).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
