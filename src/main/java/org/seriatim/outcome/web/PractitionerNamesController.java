package org.seriatim.outcome.web;

import java.time.ZoneId;
import java.util.Objects;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.outcome.domain.Practitioners;
import org.seriatim.shell.Written;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The lead opens the names of practitioners in the clinic's figures, and closes them. */
@Controller
class PractitionerNamesController {

	private static final String PATH = "/outcomes/practitioner-names";

	private final Practitioners practitioners;

	private final ZoneId zone;

	PractitionerNamesController(Practitioners practitioners, java.time.Clock clock) {
		this.practitioners = practitioners;
		this.zone = clock.getZone();
	}

	@GetMapping(PATH)
	ModelAndView ask() {
		return page(HttpStatus.OK).addObject("form", new NamesForm(null));
	}

	@PostMapping(PATH)
	ModelAndView decide(@Valid @ModelAttribute("form") NamesForm form, BindingResult errors,
			@RequestParam(required = false) @Nullable String close, RedirectAttributes flash) {
		if (close != null) {
			this.practitioners.close();
			flash.addFlashAttribute("notice", "outcome.names.closed");
			return new ModelAndView("redirect:" + PATH);
		}
		if (errors.hasErrors()) {
			return page(HttpStatus.UNPROCESSABLE_CONTENT);
		}
		this.practitioners.open(Objects.requireNonNull(form.reason()));
		flash.addFlashAttribute("notice", "outcome.names.opened");
		return new ModelAndView("redirect:" + PATH);
	}

	private ModelAndView page(HttpStatus status) {
		var opening = this.practitioners.opening();
		return new ModelAndView("outcome/practitioner-names", status).addObject("opening", opening.orElse(null))
			.addObject("openedAt", opening.map((known) -> Written.time(known.openedAt(), this.zone)).orElse(null))
			.addObject("practitioners", this.practitioners.all());
	}

}
