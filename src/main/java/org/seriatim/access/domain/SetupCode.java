package org.seriatim.access.domain;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

import org.seriatim.access.FirstVisit;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Component;

/**
 * Shown on the console of an installation without accounts, and asked for by its first
 * visit, so that no passer-by can claim it. It follows from the key of the installation,
 * so that several services on one database show and take the same; it is written down
 * nowhere, and worth nothing once there is an account.
 */
@Component
@ConditionalOnWebApplication
public class SetupCode implements FirstVisit {

	private static final int PARTS = 4;

	/**
	 * How many numbers have four figures and begin with none that is left out in speech.
	 */
	private static final int OF_A_PART = 9000;

	private final ManageAccounts accounts;

	private final Guesses guesses;

	private final ServiceKey key;

	SetupCode(ManageAccounts accounts, Guesses guesses, ServiceKey key) {
		this.accounts = accounts;
		this.guesses = guesses;
		this.key = key;
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
		return MessageDigest.isEqual(code().getBytes(StandardCharsets.UTF_8),
				typed.strip().getBytes(StandardCharsets.UTF_8));
	}

	@EventListener(ApplicationReadyEvent.class)
	void show() {
		if (isAwaited()) {
			// the console, not the log: a log is kept and shipped, and this is a secret
			System.out.printf("%nThis installation has no administrator yet.%nSetup code: %s%n%n", code());
		}
	}

	String code() {
		var bits = ByteBuffer.wrap(this.key.forPurpose("setup code"));
		return IntStream.range(0, PARTS)
			.mapToObj((part) -> Long.toString(1000 + Long.remainderUnsigned(bits.getLong(), OF_A_PART)))
			.collect(Collectors.joining("-"));
	}

}
