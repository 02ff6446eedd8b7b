package org.seriatim.access.web;

import java.util.Objects;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import org.seriatim.access.domain.ManageAccounts;
import org.seriatim.access.domain.PasswordRefused;
import org.seriatim.access.domain.SignedIn;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.security.web.context.HttpSessionSecurityContextRepository;
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

	private final UserDetailsService signIn;

	private final PasswordEncoder encoder;

	private final HttpSessionSecurityContextRepository sessions = new HttpSessionSecurityContextRepository();

	PasswordController(ManageAccounts accounts, UserDetailsService signIn, PasswordEncoder encoder) {
		this.accounts = accounts;
		this.signIn = signIn;
		this.encoder = encoder;
	}

	@GetMapping("/password")
	ModelAndView ask(@AuthenticationPrincipal SignedIn person) {
		return page(new ModelAndView("access/password", "form", new PasswordForm(null, null)), person);
	}

	@PostMapping("/password")
	ModelAndView choose(@AuthenticationPrincipal SignedIn person, @Valid @ModelAttribute("form") PasswordForm form,
			BindingResult errors, RedirectAttributes flash, HttpServletRequest request, HttpServletResponse response) {
		if (form.current() != null && !this.encoder.matches(form.current(),
				this.signIn.loadUserByUsername(person.getUsername()).getPassword())) {
			errors.rejectValue("current", "access.password.current.wrong");
		}
		if (form.password() != null && form.password().equals(form.current())) {
			errors.rejectValue("password", "access.password.unchanged");
		}
		if (!errors.hasErrors()) {
			try {
				this.accounts.choosePassword(person.account(), Objects.requireNonNull(form.password()));
			}
			catch (PasswordRefused ex) {
				errors.rejectValue("password", "access.password." + ex.rule());
			}
		}
		if (errors.hasErrors()) {
			return page(new ModelAndView("access/password", errors.getModel(), HttpStatus.UNPROCESSABLE_CONTENT),
					person);
		}
		signInAgain(person, request, response);
		flash.addFlashAttribute("notice", "access.password.chosen");
		return new ModelAndView("redirect:/");
	}

	/**
	 * The sign-in carries whether the password was a one-time one, so it is made anew.
	 */
	private void signInAgain(SignedIn person, HttpServletRequest request, HttpServletResponse response) {
		var renewed = this.signIn.loadUserByUsername(person.getUsername());
		var token = UsernamePasswordAuthenticationToken.authenticated(renewed, null, renewed.getAuthorities());
		token.eraseCredentials();
		request.changeSessionId();
		var context = SecurityContextHolder.createEmptyContext();
		context.setAuthentication(token);
		SecurityContextHolder.setContext(context);
		this.sessions.saveContext(context, request, response);
	}

	private static ModelAndView page(ModelAndView page, SignedIn person) {
		return page.addObject("oneTime", person.mustChoosePassword())
			.addObject("shortest", ManageAccounts.SHORTEST_PASSWORD);
	}

}
