package org.seriatim.access.web;

import java.time.Clock;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.UUID;

import org.seriatim.access.domain.ApiTokens;
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

/** The own tokens for scripts. */
@Controller
@ConditionalOnWebApplication
class TokensController {

	private static final DateTimeFormatter MINUTE = DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm", Locale.ROOT);

	private final ApiTokens tokens;

	private final Clock clock;

	TokensController(ApiTokens tokens, Clock clock) {
		this.tokens = tokens;
		this.clock = clock;
	}

	/** A token as its owner sees it after it was made: when. */
	record TokenRow(UUID id, String madeAt) {
	}

	@GetMapping("/tokens")
	ModelAndView list(@AuthenticationPrincipal SignedIn person) {
		var rows = this.tokens.of(person.account())
			.stream()
			.map((token) -> new TokenRow(token.id(), MINUTE.format(token.createdAt().atZone(this.clock.getZone()))))
			.toList();
		return new ModelAndView("access/tokens", "tokens", rows);
	}

	@PostMapping("/tokens")
	ModelAndView make(@AuthenticationPrincipal SignedIn person) {
		String token = this.tokens.make(person.account());
		return list(person).addObject("made", token);
	}

	@PostMapping("/tokens/{token}/revoke")
	String revoke(@AuthenticationPrincipal SignedIn person, @PathVariable UUID token, RedirectAttributes flash) {
		if (!this.tokens.revoke(token, person.account())) {
			throw new ResponseStatusException(HttpStatus.NOT_FOUND);
		}
		flash.addFlashAttribute("notice", "access.token.revoked");
		return "redirect:/tokens";
	}

}
