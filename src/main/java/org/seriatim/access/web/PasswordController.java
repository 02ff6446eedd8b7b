package org.seriatim.access.web;

import java.util.Objects;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import org.seriatim.access.domain.CheckIdentity;
import org.seriatim.access.domain.ManageAccounts;
import org.seriatim.access.domain.PasswordRefused;
import org.seriatim.access.domain.PasswordRules;
import org.seriatim.access.domain.SignIns;
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
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The own password. */
@Controller
@ConditionalOnWebApplication
class PasswordController {

	private final ManageAccounts accounts;

	private final CheckIdentity identity;

	private final SignIns signIns;

	private final SignInSession session;

	PasswordController(ManageAccounts accounts, CheckIdentity identity, SignIns signIns, SignInSession session) {
		this.accounts = accounts;
		this.identity = identity;
		this.signIns = signIns;
		this.session = session;
	}

	@GetMapping("/password")
	ModelAndView ask(@AuthenticationPrincipal SignedIn person) {
		return page(new ModelAndView("access/password", "form", new PasswordForm(null, null)), person);
	}

	@PostMapping("/password")
	ModelAndView choose(@AuthenticationPrincipal SignedIn person, @Valid @ModelAttribute("form") PasswordForm form,
			BindingResult errors, RedirectAttributes flash, HttpServletRequest request, HttpServletResponse response) {
		if (form.password() != null && form.password().equals(form.current())) {
			errors.rejectValue("password", "access.password.unchanged");
		}
		if (!errors.hasErrors()) {
			try {
				choose(person, form, errors, request);
			}
			catch (TooManyGuesses ex) {
				Waiting.tell(ex, errors, response);
			}
		}
		if (errors.hasErrors()) {
			return page(Waiting.refused("access/password", errors, response), person);
		}
		// whoever knew the old one is out
		this.signIns.endAll(person.account(), SignIns.End.NEW_PASSWORD, SignInSession.signIn(request).orElse(null));
		this.session.renew(person, request, response);
		flash.addFlashAttribute("notice", "access.password.chosen");
		return new ModelAndView("redirect:/");
	}

	private void choose(SignedIn person, PasswordForm form, BindingResult errors, HttpServletRequest request) {
		var browser = Browser.of(request);
		if (this.identity
			.byPassword(person.getUsername(), Objects.requireNonNull(form.current()).toString(), browser.address(),
					browser.mark())
			.isEmpty()) {
			errors.rejectValue("current", "access.password.current.wrong");
			return;
		}
		try {
			this.accounts.choosePassword(person.account(), Objects.requireNonNull(form.password()).toString());
		}
		catch (PasswordRefused ex) {
			reject(errors, ex);
		}
	}

	/** Says at the field which rule it was. */
	static void reject(BindingResult errors, PasswordRefused refused) {
		errors.rejectValue("password", "access.password." + refused.rule(), new Object[] { refused.limit() }, null);
	}

	private static ModelAndView page(ModelAndView page, SignedIn person) {
		return page.addObject("oneTime", person.mustChoosePassword())
			.addObject("shortest", PasswordRules.shortest(person.hasSecondFactor()));
	}

}
