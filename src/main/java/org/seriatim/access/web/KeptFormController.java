package org.seriatim.access.web;

import jakarta.servlet.http.HttpServletRequest;
import org.seriatim.access.UnsentForm;
import org.seriatim.access.domain.SignedIn;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.servlet.ModelAndView;

/** Gives back what was typed, and says whether a sign-in still lasts. */
@Controller
@ConditionalOnWebApplication
class KeptFormController {

	private final KeptForms kept;

	KeptFormController(KeptForms kept) {
		this.kept = kept;
	}

	@GetMapping("/kept-form")
	ModelAndView show(@AuthenticationPrincipal SignedIn person, HttpServletRequest request) {
		return this.kept.of(person.account(), request)
			.map((form) -> new ModelAndView("access/kept-form", "kept", form).addObject("mark", UnsentForm.MARK))
			.orElseGet(() -> new ModelAndView("redirect:/"));
	}

	/** Whoever asks this is still there. */
	@GetMapping("/stay")
	@ResponseStatus(HttpStatus.NO_CONTENT)
	void stay() {
	}

}
