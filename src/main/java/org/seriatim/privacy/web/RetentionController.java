package org.seriatim.privacy.web;

import java.util.List;
import java.util.Map;
import java.util.Objects;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.privacy.domain.DueEntry;
import org.seriatim.privacy.domain.ErasePatient;
import org.seriatim.privacy.domain.KeepRetention;
import org.seriatim.privacy.domain.OnHold;
import org.seriatim.privacy.domain.RecordExtent;
import org.seriatim.privacy.domain.RetainedKind;
import org.seriatim.privacy.web.RetentionForm.Decision;
import org.seriatim.privacy.web.RetentionForm.What;
import org.seriatim.shell.Choice;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.Written;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/**
 * Setup: how long each kind is kept, and what is due now. Everything that goes was
 * decided on by a person, line by line.
 */
@Controller
class RetentionController {

	private final KeepRetention retention;

	private final ErasePatient erase;

	RetentionController(KeepRetention retention, ErasePatient erase) {
		this.retention = retention;
		this.erase = erase;
	}

	/** One line of what is due. */
	record Line(String kind, String recordNumber, String patient, String lastOn, long entries) {
	}

	/**
	 * One thing that would go.
	 *
	 * @param extent how much a record holds; none for another kind
	 */
	record Removal(Line line, @Nullable RecordExtent extent) {
	}

	@GetMapping("/setup/retention")
	ModelAndView show() {
		var due = this.retention.due();
		return page(HttpStatus.OK, due).addObject("form", RetentionForm.of(due));
	}

	@PostMapping("/setup/retention")
	ModelAndView carryOut(@Valid @ModelAttribute("form") RetentionForm form, BindingResult errors,
			RedirectAttributes flash) {
		for (int at = 0; at < form.due().size(); at++) {
			if (form.due().get(at).what() == What.KEEP && form.due().get(at).reason() == null) {
				errors.rejectValue("due[" + at + "].reason", "privacy.retention.reason.missing");
			}
		}
		if (errors.hasErrors()) {
			var due = this.retention.due();
			return page(HttpStatus.UNPROCESSABLE_CONTENT, shown(form, due));
		}
		if (!Boolean.TRUE.equals(form.confirmed())) {
			var removals = this.retention.due().stream().filter(form::removes).map(this::removal).toList();
			if (!removals.isEmpty()) {
				return new ModelAndView("privacy/retention-confirm", errors.getModel()).addObject("removals", removals)
					.addObject("kept", form.due().stream().filter((decision) -> decision.what() == What.KEEP).count());
			}
		}
		form.due().forEach(this::carryOut);
		flash.addFlashAttribute("notice", "privacy.retention.done");
		return new ModelAndView("redirect:/setup/retention");
	}

	private void carryOut(Decision decision) {
		if (decision.kind() == null || decision.patient() == null) {
			return;
		}
		if (decision.what() == What.KEEP) {
			this.retention.keep(decision.kind(), decision.patient(), Objects.requireNonNull(decision.reason()));
		}
		else if (decision.what() == What.REMOVE) {
			try {
				this.retention.remove(decision.kind(), decision.patient());
			}
			catch (OnHold ex) {
				// put on hold a moment ago: it stays
			}
		}
	}

	private Removal removal(DueEntry entry) {
		return new Removal(line(entry),
				(entry.kind() == RetainedKind.RECORD) ? this.erase.extent(entry.patient()) : null);
	}

	private static Line line(DueEntry entry) {
		return new Line("privacy.retention.kind." + entry.kind().word(), entry.recordNumber(),
				entry.patient().toString(), Written.day(entry.lastOn()), entry.entries());
	}

	/** What the form shows, in its order, as far as it is still due. */
	private static List<DueEntry> shown(RetentionForm form, List<DueEntry> due) {
		return form.due()
			.stream()
			.flatMap((decision) -> due.stream()
				.filter((entry) -> entry.kind() == decision.kind() && entry.patient().equals(decision.patient())))
			.toList();
	}

	@GetMapping("/setup/retention/rules")
	ModelAndView rules() {
		var rules = this.retention.rules();
		return new ModelAndView("privacy/retention-rules", "form",
				new RetentionRulesForm(months(rules, RetainedKind.RECORD), months(rules, RetainedKind.DRAFT),
						months(rules, RetainedKind.ADVICE)));
	}

	@PostMapping("/setup/retention/rules")
	ModelAndView change(@Valid @ModelAttribute("form") RetentionRulesForm form, BindingResult errors,
			RedirectAttributes flash) {
		if (errors.hasErrors()) {
			return new ModelAndView("privacy/retention-rules", HttpStatus.UNPROCESSABLE_CONTENT);
		}
		var rules = this.retention.rules();
		change(rules, RetainedKind.RECORD, form.recordMonths());
		change(rules, RetainedKind.DRAFT, form.draftMonths());
		change(rules, RetainedKind.ADVICE, form.adviceMonths());
		flash.addFlashAttribute("notice", "privacy.retention.rules.done");
		return new ModelAndView("redirect:/setup/retention");
	}

	private void change(Map<RetainedKind, Integer> rules, RetainedKind kind, @Nullable String typed) {
		var months = DecimalText.whole(typed);
		if (!Objects.equals(rules.get(kind), months)) {
			this.retention.rule(kind, months);
		}
	}

	private static @Nullable String months(Map<RetainedKind, Integer> rules, RetainedKind kind) {
		return DecimalText.of(rules.get(kind));
	}

	private ModelAndView page(HttpStatus status, List<DueEntry> due) {
		return new ModelAndView("privacy/retention", status).addObject("noRule", this.retention.rules().isEmpty())
			.addObject("decisions", Choice.ofWords("privacy.retention.what", What.values()))
			.addObject("lines", due.stream().map(RetentionController::line).toList());
	}

}
