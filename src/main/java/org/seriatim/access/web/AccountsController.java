package org.seriatim.access.web;

import java.util.Objects;
import java.util.Set;
import java.util.UUID;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Role;
import org.seriatim.access.domain.LastAdministrator;
import org.seriatim.access.domain.ManageAccounts;
import org.seriatim.access.domain.NameTaken;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Setup: who may sign in, and as what. */
@Controller
@ConditionalOnWebApplication
class AccountsController {

	private static final String LIST = "redirect:/setup/accounts";

	private final ManageAccounts accounts;

	AccountsController(ManageAccounts accounts) {
		this.accounts = accounts;
	}

	@GetMapping("/setup/accounts")
	ModelAndView list() {
		return page(new ModelAndView("access/accounts", "form", AccountForm.empty()));
	}

	@PostMapping("/setup/accounts")
	ModelAndView open(@Valid @ModelAttribute("form") AccountForm form, BindingResult errors) {
		String password = null;
		if (!errors.hasErrors()) {
			try {
				password = this.accounts.open(Objects.requireNonNull(form.name()),
						Objects.requireNonNull(form.roles()));
			}
			catch (NameTaken ex) {
				errors.rejectValue("name", "access.account.name.taken");
			}
		}
		if (password == null) {
			return page(new ModelAndView("access/accounts", errors.getModel(), HttpStatus.UNPROCESSABLE_CONTENT));
		}
		return shown(form.name(), password);
	}

	@PostMapping("/setup/accounts/{account}/password")
	ModelAndView resetPassword(@PathVariable UUID account, @RequestParam String name) {
		return shown(name, this.accounts.resetPassword(account));
	}

	@PostMapping("/setup/accounts/{account}/roles")
	String giveRoles(@PathVariable UUID account, @RequestParam(required = false) @Nullable Set<Role> roles,
			RedirectAttributes flash) {
		if (roles == null || roles.isEmpty()) {
			flash.addFlashAttribute("problem", "access.account.roles.missing");
			return LIST;
		}
		try {
			this.accounts.giveRoles(account, roles);
			flash.addFlashAttribute("notice", "access.account.roles.given");
		}
		catch (LastAdministrator ex) {
			flash.addFlashAttribute("problem", "access.account.last-administrator");
		}
		return LIST;
	}

	@PostMapping("/setup/accounts/{account}/active")
	String setActive(@PathVariable UUID account, @RequestParam boolean active, RedirectAttributes flash) {
		try {
			this.accounts.setActive(account, active);
			flash.addFlashAttribute("notice", active ? "access.account.reactivated" : "access.account.deactivated");
		}
		catch (LastAdministrator ex) {
			flash.addFlashAttribute("problem", "access.account.last-administrator");
		}
		return LIST;
	}

	/**
	 * The one-time password is on the answer itself: it stands in no address and in no
	 * stored sign-in.
	 */
	private ModelAndView shown(@Nullable String name, String password) {
		return page(new ModelAndView("access/accounts", "form", AccountForm.empty())).addObject("openedFor", name)
			.addObject("oneTimePassword", password);
	}

	private ModelAndView page(ModelAndView page) {
		return page.addObject("accounts", this.accounts.list().rows()).addObject("allRoles", Role.values());
	}

}
