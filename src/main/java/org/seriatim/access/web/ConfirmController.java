package org.seriatim.access.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.domain.CheckIdentity;
import org.seriatim.access.domain.SignedIn;
import org.seriatim.access.domain.TooManyGuesses;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;

/**
 * Asks somebody who is signed in once more who they are, before something that cannot be
 * taken back, and goes on with it.
 */
@Controller
@ConditionalOnWebApplication
class ConfirmController {

	private final CheckIdentity identity;

	private final SignInSession session;

	private final Resume resume;

	private final AuditLog audit;

	ConfirmController(CheckIdentity identity, SignInSession session, Resume resume, AuditLog audit) {
		this.identity = identity;
		this.session = session;
		this.resume = resume;
		this.audit = audit;
	}

	@GetMapping("/confirm")
	ModelAndView ask(@AuthenticationPrincipal SignedIn person) {
		return page(new ModelAndView("access/confirm", "form", ConfirmForm.empty()), person);
	}

	@PostMapping("/confirm")
	ModelAndView confirm(@AuthenticationPrincipal SignedIn person, @Valid @ModelAttribute("form") ConfirmForm form,
			BindingResult errors, HttpServletRequest request, HttpServletResponse response) {
		try {
			if (form.code() != null && person.hasSecondFactor()) {
				byCode(person, form.code(), errors, request, response);
			}
			else if (form.password() != null) {
				byPassword(person, form.password().toString(), errors, request, response);
			}
			else {
				errors.rejectValue("password", "access.confirm.missing");
			}
		}
		catch (TooManyGuesses ex) {
			Waiting.tell(ex, errors, response);
		}
		if (errors.hasErrors()) {
			this.audit.record(Action.SIGN_IN_REFUSED, "account", person.account(), null, "confirmation");
			return page(Waiting.refused("access/confirm", errors, response), person);
		}
		return new ModelAndView(this.resume.after(person, request, response));
	}

	private void byCode(SignedIn person, String code, BindingResult errors, HttpServletRequest request,
			HttpServletResponse response) {
		var browser = Browser.of(request);
		if (this.identity.byCode(person, code, browser.address(), browser.mark())) {
			this.session.show(person, Factors.SECOND, request, response);
		}
		else {
			errors.rejectValue("code", "access.code.wrong");
		}
	}

	private void byPassword(SignedIn person, String password, BindingResult errors, HttpServletRequest request,
			HttpServletResponse response) {
		var browser = Browser.of(request);
		if (this.identity.byPassword(person.getUsername(), password, browser.address(), browser.mark()).isPresent()) {
			this.session.show(person, Factors.PASSWORD, request, response);
		}
		else {
			errors.rejectValue("password", "access.password.current.wrong");
		}
	}

	private static ModelAndView page(ModelAndView page, SignedIn person) {
		return page.addObject("secondFactor", person.hasSecondFactor());
	}

}
