package org.seriatim.record.web;

import jakarta.validation.Valid;
import org.seriatim.followup.AdviceDecisions;
import org.seriatim.followup.AdviceReplaced;
import org.seriatim.followup.OverrideRefused;
import org.seriatim.treatment.SeriesId;
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

@Controller
class SeriesRecordController {

	private final SeriesRecordPages pages;

	private final AdviceDecisions decisions;

	SeriesRecordController(SeriesRecordPages pages, AdviceDecisions decisions) {
		this.pages = pages;
		this.decisions = decisions;
	}

	@GetMapping("/series/{series}")
	ModelAndView show(@PathVariable SeriesId series) {
		return page(series, HttpStatus.OK).addObject("form", DecisionForm.empty());
	}

	@PostMapping("/series/{series}/advice/decision")
	ModelAndView decide(@PathVariable SeriesId series, @Valid @ModelAttribute("form") DecisionForm form,
			BindingResult errors, RedirectAttributes flash) {
		if (!form.accepts()) {
			requireWindow(form, errors);
		}
		if (!errors.hasErrors()) {
			try {
				decide(form);
				flash.addFlashAttribute("notice",
						form.accepts() ? "record.decision.accepted" : "record.decision.overridden");
				return new ModelAndView("redirect:/series/" + series + "#advice");
			}
			catch (OverrideRefused refused) {
				refuse(refused.why(), errors);
			}
			catch (AdviceReplaced replaced) {
				return page(series, HttpStatus.CONFLICT).addObject("replaced", true);
			}
		}
		return page(series, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private void decide(DecisionForm form) {
		if (form.accepts()) {
			this.decisions.accept(form.advice());
		}
		else {
			this.decisions.override(form.advice(), form.reason(), form.firstDay(), form.lastDay());
		}
	}

	private static void requireWindow(DecisionForm form, BindingResult errors) {
		if (form.reason() == null) {
			errors.rejectValue("reason", "record.decision.no-reason");
		}
		if (form.firstDay() == null && !errors.hasFieldErrors("firstDay")) {
			errors.rejectValue("firstDay", "record.decision.no-day");
		}
		if (form.lastDay() == null && !errors.hasFieldErrors("lastDay")) {
			errors.rejectValue("lastDay", "record.decision.no-day");
		}
	}

	private static void refuse(OverrideRefused.Why why, BindingResult errors) {
		switch (why) {
			case ON_HOLD -> errors.reject("record.decision.on-hold");
			case BEFORE_SESSION -> errors.rejectValue("firstDay", "record.decision.before-session");
			case LAST_BEFORE_FIRST -> errors.rejectValue("lastDay", "record.decision.last-before-first");
			case NO_REASON -> errors.rejectValue("reason", "record.decision.no-reason");
		}
	}

	private ModelAndView page(SeriesId series, HttpStatus status) {
		var page = this.pages.open(series).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
		return new ModelAndView("record/series", status).addObject("page", page);
	}

}
