package org.seriatim.access.web;

import java.util.Objects;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import org.seriatim.access.domain.Guesses;
import org.seriatim.access.domain.Invitations;
import org.seriatim.access.domain.PasswordRefused;
import org.seriatim.access.domain.PasswordRules;
import org.seriatim.access.domain.TooManyGuesses;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Whoever was given a code by an administrator chooses the password of the account. */
@Controller
@ConditionalOnWebApplication
class InvitationController {

	private final Invitations invitations;

	private final Guesses guesses;

	InvitationController(Invitations invitations, Guesses guesses) {
		this.invitations = invitations;
		this.guesses = guesses;
	}

	@GetMapping("/invitation")
	ModelAndView ask() {
		return page(new ModelAndView("access/invitation", "form", InvitationForm.empty()));
	}

	@PostMapping("/invitation")
	ModelAndView accept(@Valid @ModelAttribute("form") InvitationForm form, BindingResult errors,
			RedirectAttributes flash, HttpServletRequest request, HttpServletResponse response) {
		if (!errors.hasErrors()) {
			try {
				accept(Objects.requireNonNull(form.code()), Objects.requireNonNull(form.password()).toString(), errors,
						request);
			}
			catch (TooManyGuesses ex) {
				Waiting.tell(ex, errors, response);
			}
		}
		if (errors.hasErrors()) {
			return page(Waiting.refused("access/invitation", errors, response));
		}
		flash.addFlashAttribute("notice", "access.invitation.accepted");
		return new ModelAndView("redirect:/sign-in");
	}

	private void accept(String code, String password, BindingResult errors, HttpServletRequest request) {
		var guess = this.guesses.count(Guesses.Kind.INVITATION, "", new Guesses.Origin(request.getRemoteAddr(), ""));
		var invited = this.invitations.invited(code);
		if (invited.isEmpty()) {
			errors.rejectValue("code", "access.invitation.code.wrong");
			return;
		}
		this.guesses.right(guess);
		try {
			this.invitations.accept(code, password);
		}
		catch (PasswordRefused ex) {
			PasswordController.reject(errors, ex);
		}
	}

	private static ModelAndView page(ModelAndView page) {
		return page.addObject("shortest", PasswordRules.SHORTEST_ALONE);
	}

}
