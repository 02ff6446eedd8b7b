package org.seriatim.access.web;

import java.util.Objects;
import java.util.Set;
import java.util.concurrent.atomic.AtomicBoolean;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import org.seriatim.access.FirstVisit;
import org.seriatim.access.Role;
import org.seriatim.access.domain.ManageAccounts;
import org.seriatim.access.domain.NameTaken;
import org.seriatim.access.domain.PasswordRefused;
import org.seriatim.access.domain.SetupCode;
import org.seriatim.database.OneServiceAtATime;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The first visit to an empty installation creates its administrator. */
@Controller
@ConditionalOnWebApplication
class SetUpController {

	private final SetupCode setup;

	private final ManageAccounts accounts;

	private final OneServiceAtATime services;

	SetUpController(SetupCode setup, ManageAccounts accounts, OneServiceAtATime services) {
		this.setup = setup;
		this.accounts = accounts;
		this.services = services;
	}

	@GetMapping("/set-up")
	ModelAndView ask() {
		return this.setup.isAwaited() ? new ModelAndView("access/set-up", "form", FirstAdministratorForm.empty())
				: done();
	}

	@PostMapping("/set-up")
	ModelAndView create(@Valid @ModelAttribute("form") FirstAdministratorForm form, BindingResult errors,
			RedirectAttributes flash, HttpServletRequest request, HttpServletResponse response) {
		var opened = new AtomicBoolean();
		// of two visitors at once, also to two services, one is let in
		this.services.run(FirstVisit.WORK, () -> {
			if (this.setup.isAwaited()) {
				if (form.code() != null) {
					check(form.code(), errors, request, response);
				}
				opened.set(!errors.hasErrors() && open(form, errors));
			}
		});
		if (errors.hasErrors()) {
			return Waiting.refused("access/set-up", errors, response);
		}
		if (opened.get()) {
			flash.addFlashAttribute("notice", "access.set-up.done");
		}
		return done();
	}

	private boolean open(FirstAdministratorForm form, BindingResult errors) {
		try {
			this.accounts.open(Objects.requireNonNull(form.name()), Set.of(Role.ADMINISTRATOR),
					Objects.requireNonNull(form.password()).toString());
			return true;
		}
		catch (PasswordRefused ex) {
			PasswordController.reject(errors, ex);
		}
		catch (NameTaken ex) {
			errors.rejectValue("name", "access.account.name.taken");
		}
		return false;
	}

	private void check(String code, BindingResult errors, HttpServletRequest request, HttpServletResponse response) {
		var answer = this.setup.answer(code, request.getRemoteAddr());
		if (answer.secondsToWait() > 0) {
			Waiting.tell(answer.secondsToWait(), errors, response);
		}
		else if (!answer.right()) {
			errors.rejectValue("code", "access.set-up.code.wrong");
		}
	}

	private static ModelAndView done() {
		return new ModelAndView("redirect:/sign-in");
	}

}
