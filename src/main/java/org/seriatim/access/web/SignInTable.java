package org.seriatim.access.web;

import java.time.Clock;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.domain.SignIns;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.stereotype.Component;

/** Sign-ins as a page shows them. */
@Component
@ConditionalOnWebApplication
class SignInTable {

	static final DateTimeFormatter MINUTE = DateTimeFormatter.ofPattern("d MMM yyyy HH:mm", Locale.ENGLISH);

	private final SignIns signIns;

	private final Clock clock;

	SignInTable(SignIns signIns, Clock clock) {
		this.signIns = signIns;
		this.clock = clock;
	}

	/**
	 * One line.
	 *
	 * @param lastUsed empty if it is over
	 * @param here whether it is the one that looks
	 * @param complete whether the second factor, where one was asked for, was given
	 */
	record Row(UUID id, String at, String address, String browser, String lastUsed, boolean open, boolean here,
			boolean complete) {
	}

	List<Row> of(UUID account, @Nullable UUID here) {
		return this.signIns.of(account)
			.stream()
			.map((signIn) -> new Row(signIn.id(), written(signIn.at()), signIn.address(), signIn.browser(),
					(signIn.lastUsedAt() != null) ? written(signIn.lastUsedAt()) : "", signIn.isOpen(),
					signIn.id().equals(here), signIn.complete()))
			.toList();
	}

	String written(Instant at) {
		return MINUTE.format(at.atZone(this.clock.getZone()));
	}

}
