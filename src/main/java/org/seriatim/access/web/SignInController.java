package org.seriatim.access.web;

import java.util.Objects;
import java.util.Optional;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.DemoSignIns;
import org.seriatim.access.domain.CheckIdentity;
import org.seriatim.access.domain.SetupCode;
import org.seriatim.access.domain.SignedIn;
import org.seriatim.access.domain.TooManyGuesses;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;

/** Name and password, then the second factor where the account has one. */
@Controller
@ConditionalOnWebApplication
class SignInController {

	private static final String CODE = "/sign-in/code";

	private final SetupCode setup;

	private final CheckIdentity identity;

	private final SignInSession session;

	private final Resume resume;

	private final KeptForms kept;

	private final AuditLog audit;

	private final ObjectProvider<DemoSignIns> demo;

	SignInController(SetupCode setup, CheckIdentity identity, SignInSession session, Resume resume, KeptForms kept,
			AuditLog audit, ObjectProvider<DemoSignIns> demo) {
		this.setup = setup;
		this.identity = identity;
		this.session = session;
		this.resume = resume;
		this.kept = kept;
		this.audit = audit;
		this.demo = demo;
	}

	@GetMapping("/sign-in")
	ModelAndView ask(HttpServletRequest request) {
		if (this.setup.isAwaited()) {
			return new ModelAndView("redirect:/set-up");
		}
		return page(new ModelAndView("access/sign-in", "form", new SignInForm(null, null)), request);
	}

	@PostMapping("/sign-in")
	ModelAndView signIn(@Valid @ModelAttribute("form") SignInForm form, BindingResult errors,
			HttpServletRequest request, HttpServletResponse response) {
		var person = errors.hasErrors() ? Optional.<SignedIn>empty() : known(form, errors, request, response);
		if (person.isEmpty()) {
			return page(Waiting.refused("access/sign-in", errors, response), request);
		}
		this.session.begin(person.get(), request, response);
		return new ModelAndView(person.get().hasSecondFactor() ? "redirect:" + CODE
				: this.resume.after(person.get(), request, response));
	}

	private Optional<SignedIn> known(SignInForm form, BindingResult errors, HttpServletRequest request,
			HttpServletResponse response) {
		var browser = Browser.of(request);
		try {
			var person = this.identity.byPassword(Objects.requireNonNull(form.name()),
					Objects.requireNonNull(form.password()).toString(), browser.address(), browser.mark());
			if (person.isEmpty()) {
				errors.reject("access.sign-in.refused");
				this.audit.record(Action.SIGN_IN_REFUSED, "account", null, null);
			}
			return person;
		}
		catch (TooManyGuesses ex) {
			Waiting.tell(ex, errors, response);
			return Optional.empty();
		}
	}

	private ModelAndView page(ModelAndView page, HttpServletRequest request) {
		return page.addObject("demo", this.demo.stream().flatMap((people) -> people.list().stream()).toList())
			.addObject("kept", this.kept.waits(request));
	}

	@GetMapping(CODE)
	ModelAndView askForCode(@AuthenticationPrincipal SignedIn person) {
		return person.hasSecondFactor() ? new ModelAndView("access/code", "form", CodeForm.empty())
				: new ModelAndView("redirect:/");
	}

	@PostMapping(CODE)
	ModelAndView takeCode(@AuthenticationPrincipal SignedIn person, @Valid @ModelAttribute("form") CodeForm form,
			BindingResult errors, HttpServletRequest request, HttpServletResponse response) {
		var browser = Browser.of(request);
		if (!errors.hasErrors()) {
			try {
				if (this.identity.byCode(person, Objects.requireNonNull(form.code()), browser.address(),
						browser.mark())) {
					this.session.giveSecondFactor(person, request, response);
					return new ModelAndView(this.resume.after(person, request, response));
				}
				errors.rejectValue("code", "access.code.wrong");
				this.audit.record(Action.SIGN_IN_REFUSED, "account", person.account(), null, "code");
			}
			catch (TooManyGuesses ex) {
				Waiting.tell(ex, errors, response);
			}
		}
		return Waiting.refused("access/code", errors, response);
	}

}
