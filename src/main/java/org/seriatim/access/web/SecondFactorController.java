package org.seriatim.access.web;

import java.util.List;
import java.util.Objects;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import org.seriatim.access.domain.ManageAccounts;
import org.seriatim.access.domain.SecondFactors;
import org.seriatim.access.domain.SignedIn;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The own second factor: on, off, and the codes for when the app is lost. */
@Controller
@ConditionalOnWebApplication
class SecondFactorController {

	private static final String PAGE = "/account/second-factor";

	private final SecondFactors secondFactors;

	private final ManageAccounts accounts;

	private final SignInSession session;

	SecondFactorController(SecondFactors secondFactors, ManageAccounts accounts, SignInSession session) {
		this.secondFactors = secondFactors;
		this.accounts = accounts;
		this.session = session;
	}

	@GetMapping(PAGE)
	ModelAndView show(@AuthenticationPrincipal SignedIn person) {
		return page(new ModelAndView("access/second-factor", "form", CodeForm.empty()), person);
	}

	@PostMapping(PAGE)
	ModelAndView turnOn(@AuthenticationPrincipal SignedIn person, @Valid @ModelAttribute("form") CodeForm form,
			BindingResult errors, HttpServletRequest request, HttpServletResponse response) {
		if (!errors.hasErrors()) {
			var codes = this.secondFactors.confirm(person.account(), Objects.requireNonNull(form.code()));
			if (codes.isPresent()) {
				this.session.giveSecondFactor(person, request, response);
				this.session.renew(person, request, response);
				return recoveryCodes(codes.get());
			}
			errors.rejectValue("code", "access.second-factor.wrong");
		}
		return page(new ModelAndView("access/second-factor", errors.getModel(), HttpStatus.UNPROCESSABLE_CONTENT),
				person);
	}

	@PostMapping(PAGE + "/recovery-codes")
	ModelAndView renewRecoveryCodes(@AuthenticationPrincipal SignedIn person) {
		if (!person.hasSecondFactor()) {
			return new ModelAndView("redirect:" + PAGE);
		}
		return recoveryCodes(this.secondFactors.renewRecoveryCodes(person.account()));
	}

	@PostMapping(PAGE + "/remove")
	ModelAndView turnOff(@AuthenticationPrincipal SignedIn person, RedirectAttributes flash) {
		if (person.needsSecondFactor()) {
			flash.addFlashAttribute("problem", "access.second-factor.needed");
		}
		else if (!this.accounts.passwordStandsAlone(person.account())) {
			flash.addFlashAttribute("problem", "access.second-factor.password-too-short");
		}
		else {
			this.secondFactors.remove(person.account());
			flash.addFlashAttribute("notice", "access.second-factor.removed");
		}
		return new ModelAndView("redirect:" + PAGE);
	}

	/** They are on the answer itself: in no address and in no stored sign-in. */
	private static ModelAndView recoveryCodes(List<String> codes) {
		return new ModelAndView("access/recovery-codes", "codes", codes);
	}

	private ModelAndView page(ModelAndView page, SignedIn person) {
		page.addObject("needed", person.needsSecondFactor());
		if (person.hasSecondFactor()) {
			return page.addObject("left", this.secondFactors.recoveryCodesLeft(person.account()));
		}
		var enrolment = this.secondFactors.enrolment(person.account(), person.getUsername());
		return page.addObject("secret", grouped(enrolment.secret()))
			.addObject("drawing", QrDrawing.of(enrolment.address()))
			.addObject("address", enrolment.address());
	}

	private static String grouped(String secret) {
		return secret.replaceAll("(.{4})(?!$)", "$1 ");
	}

}
