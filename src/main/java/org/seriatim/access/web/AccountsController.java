package org.seriatim.access.web;

import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Role;
import org.seriatim.access.domain.AccountList;
import org.seriatim.access.domain.CloseAccount;
import org.seriatim.access.domain.Invitations;
import org.seriatim.access.domain.Invitations.Invitation;
import org.seriatim.access.domain.LastAdministrator;
import org.seriatim.access.domain.ManageAccounts;
import org.seriatim.access.domain.NameTaken;
import org.seriatim.access.domain.SignIns;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

/** Setup: who may sign in, and as what. */
@Controller
@ConditionalOnWebApplication
class AccountsController {

	private static final String ACCOUNT = "/setup/accounts/{account}";

	private final ManageAccounts accounts;

	private final AccountList list;

	private final Invitations invitations;

	private final CloseAccount close;

	private final SignIns signIns;

	private final SignInTable table;

	AccountsController(ManageAccounts accounts, AccountList list, Invitations invitations, CloseAccount close,
			SignIns signIns, SignInTable table) {
		this.accounts = accounts;
		this.list = list;
		this.invitations = invitations;
		this.close = close;
		this.signIns = signIns;
		this.table = table;
	}

	/** One line of the list. */
	record AccountRow(UUID id, String name, Set<Role> roles, String state, boolean secondFactor, String lastSignIn) {
	}

	@GetMapping("/setup/accounts")
	ModelAndView list() {
		return list(new ModelAndView("access/accounts", "form", AccountForm.empty()));
	}

	@PostMapping("/setup/accounts")
	ModelAndView invite(@Valid @ModelAttribute("form") AccountForm form, BindingResult errors) {
		if (!errors.hasErrors()) {
			try {
				return handedOver(this.invitations.invite(Objects.requireNonNull(form.name()),
						Objects.requireNonNull(form.roles())));
			}
			catch (NameTaken ex) {
				errors.rejectValue("name", "access.account.name.taken");
			}
		}
		return list(new ModelAndView("access/accounts", errors.getModel(), HttpStatus.UNPROCESSABLE_CONTENT));
	}

	@GetMapping(ACCOUNT)
	ModelAndView show(@PathVariable UUID account, HttpServletRequest request) {
		var row = existing(account);
		return new ModelAndView("access/account-of", "account", row).addObject("allRoles", Role.values())
			.addObject("signIns", this.table.of(account, SignInSession.signIn(request).orElse(null)))
			.addObject("invitedUntil", (row.invitedUntil() != null) ? this.table.written(row.invitedUntil()) : null);
	}

	@PostMapping(ACCOUNT + "/roles")
	String giveRoles(@PathVariable UUID account, @RequestParam(required = false) @Nullable Set<Role> roles,
			RedirectAttributes flash) {
		existing(account);
		if (roles == null || roles.isEmpty()) {
			flash.addFlashAttribute("problem", "access.account.roles.missing");
		}
		else {
			unlessLast(() -> this.accounts.giveRoles(account, roles), "access.account.roles.given", flash);
		}
		return page(account);
	}

	/** For a forgotten password, or another code where the first one was lost. */
	@PostMapping(ACCOUNT + "/invitation")
	ModelAndView inviteAgain(@PathVariable UUID account) {
		if (!existing(account).isActive()) {
			return new ModelAndView(page(account));
		}
		return handedOver(this.invitations.invite(account));
	}

	/** For a lost second factor. */
	@PostMapping(ACCOUNT + "/second-factor")
	ModelAndView startAnew(@PathVariable UUID account, RedirectAttributes flash) {
		existing(account);
		try {
			return handedOver(this.close.startAnew(account));
		}
		catch (LastAdministrator ex) {
			flash.addFlashAttribute("problem", "access.account.last-administrator");
			return new ModelAndView(page(account));
		}
	}

	@PostMapping(ACCOUNT + "/active")
	String setActive(@PathVariable UUID account, @RequestParam boolean active, RedirectAttributes flash) {
		existing(account);
		if (active) {
			this.accounts.reactivate(account);
			flash.addFlashAttribute("notice", "access.account.reactivated");
		}
		else {
			unlessLast(() -> this.close.deactivate(account), "access.account.deactivated", flash);
		}
		return page(account);
	}

	@PostMapping(ACCOUNT + "/sign-ins/end")
	String endSignIns(@PathVariable UUID account, RedirectAttributes flash) {
		existing(account);
		this.signIns.endAll(account, SignIns.End.ADMINISTRATOR, null);
		flash.addFlashAttribute("notice", "access.sign-ins.all-ended");
		return page(account);
	}

	private static void unlessLast(Runnable change, String notice, RedirectAttributes flash) {
		try {
			change.run();
			flash.addFlashAttribute("notice", notice);
		}
		catch (LastAdministrator ex) {
			flash.addFlashAttribute("problem", "access.account.last-administrator");
		}
	}

	private AccountList.Row existing(UUID account) {
		return this.list.one(account).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

	private static String page(UUID account) {
		return "redirect:/setup/accounts/" + account;
	}

	/**
	 * The code is on the answer itself: it stands in no address and in no stored sign-in.
	 * In the link it stands behind the mark that browsers don't send.
	 */
	private ModelAndView handedOver(Invitation invitation) {
		String link = ServletUriComponentsBuilder.fromCurrentContextPath()
			.path("/invitation")
			.fragment(invitation.code())
			.toUriString();
		return new ModelAndView("access/invited", "invitation", invitation).addObject("link", link)
			.addObject("until", this.table.written(invitation.expiresAt()));
	}

	private ModelAndView list(ModelAndView page) {
		List<AccountRow> rows = this.list.all()
			.stream()
			.map((row) -> new AccountRow(row.id(), row.name(), row.roles(), row.state().word(), row.secondFactor(),
					(row.lastSignIn() != null) ? this.table.written(row.lastSignIn()) : ""))
			.toList();
		return page.addObject("accounts", rows).addObject("allRoles", Role.values());
	}

}
