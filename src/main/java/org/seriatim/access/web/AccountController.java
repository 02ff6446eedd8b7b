package org.seriatim.access.web;

import java.util.UUID;

import jakarta.servlet.http.HttpServletRequest;
import org.seriatim.access.domain.SecondFactors;
import org.seriatim.access.domain.SignIns;
import org.seriatim.access.domain.SignedIn;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The own account: where it is signed in, and what protects it. */
@Controller
@ConditionalOnWebApplication
class AccountController {

	private final SignIns signIns;

	private final SignInTable table;

	private final SecondFactors secondFactors;

	AccountController(SignIns signIns, SignInTable table, SecondFactors secondFactors) {
		this.signIns = signIns;
		this.table = table;
		this.secondFactors = secondFactors;
	}

	@GetMapping("/account")
	ModelAndView show(@AuthenticationPrincipal SignedIn person, HttpServletRequest request) {
		var here = SignInSession.signIn(request).orElse(null);
		return new ModelAndView("access/account", "signIns", this.table.of(person.account(), here))
			.addObject("person", person)
			.addObject("left", this.secondFactors.recoveryCodesLeft(person.account()));
	}

	@PostMapping("/account/sign-ins/{sign-in}/end")
	String end(@AuthenticationPrincipal SignedIn person, @PathVariable("sign-in") UUID signIn,
			RedirectAttributes flash) {
		if (!this.signIns.end(signIn, person.account(), SignIns.End.OWNER)) {
			throw new ResponseStatusException(HttpStatus.NOT_FOUND);
		}
		flash.addFlashAttribute("notice", "access.sign-ins.ended");
		return "redirect:/account";
	}

	/** Everywhere, here too. */
	@PostMapping("/account/sign-ins/end")
	String endAll(@AuthenticationPrincipal SignedIn person, HttpServletRequest request) {
		this.signIns.endAll(person.account(), SignIns.End.OWNER, null);
		if (request.getSession(false) != null) {
			request.getSession(false).invalidate();
		}
		return "redirect:/sign-in?everywhere";
	}

}
