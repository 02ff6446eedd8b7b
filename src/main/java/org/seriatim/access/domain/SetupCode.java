package org.seriatim.access.domain;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.util.stream.Collectors;

import org.seriatim.access.FirstVisit;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Component;

/**
 * Shown on the console of an installation without accounts, and asked for by its first
 * visit, so that no passer-by can claim it. It lives in memory only: another start shows
 * another code.
 */
@Component
@ConditionalOnWebApplication
public class SetupCode implements FirstVisit {

	private final ManageAccounts accounts;

	private final Guesses guesses;

	private final String code = new SecureRandom().ints(4, 1000, 10000)
		.mapToObj(Integer::toString)
		.collect(Collectors.joining("-"));

	SetupCode(ManageAccounts accounts, Guesses guesses) {
		this.accounts = accounts;
		this.guesses = guesses;
	}

	@Override
	public boolean isAwaited() {
		return this.accounts.isEmpty();
	}

	@Override
	public Answer answer(String typed, String address) {
		try {
			var guess = this.guesses.count(Guesses.Kind.SETUP, "", new Guesses.Origin(address, ""));
			boolean right = matches(typed);
			if (right) {
				this.guesses.right(guess);
			}
			return new Answer(right, 0);
		}
		catch (TooManyGuesses ex) {
			return new Answer(false, ex.seconds());
		}
	}

	private boolean matches(String typed) {
		return MessageDigest.isEqual(this.code.getBytes(StandardCharsets.UTF_8),
				typed.strip().getBytes(StandardCharsets.UTF_8));
	}

	@EventListener(ApplicationReadyEvent.class)
	void show() {
		if (isAwaited()) {
			// the console, not the log: a log is kept and shipped, and this is a secret
			System.out.printf("%nThis installation has no administrator yet.%nSetup code: %s%n%n", this.code);
		}
	}

	String code() {
		return this.code;
	}

}
