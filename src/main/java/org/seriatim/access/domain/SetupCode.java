package org.seriatim.access.domain;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.util.stream.Collectors;

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
public class SetupCode {

	private final ManageAccounts accounts;

	private final String code = new SecureRandom().ints(4, 1000, 10000)
		.mapToObj(Integer::toString)
		.collect(Collectors.joining("-"));

	SetupCode(ManageAccounts accounts) {
		this.accounts = accounts;
	}

	/** Whether the installation still waits for its first administrator. */
	public boolean isAwaited() {
		return this.accounts.isEmpty();
	}

	public boolean matches(String typed) {
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
