package org.seriatim.contactlink.web;

import java.time.Clock;
import java.util.Locale;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.contactlink.domain.LinkSettings.Required;
import org.seriatim.contactlink.domain.OutboxMessage;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.Written;
import org.springframework.stereotype.Component;

/** Messages of the outbox as pages show them. */
@Component
class OutboxWording {

	private final Clock clock;

	OutboxWording(Clock clock) {
		this.clock = clock;
	}

	/**
	 * A message.
	 *
	 * @param purpose message key of what it is for
	 * @param note the time that a reminder names
	 * @param kind of the status component
	 * @param state message key
	 * @param problem message key of why it did not go, if it did not
	 * @param next when it is tried next, or when it went
	 */
	record Line(UUID id, PatientId patient, String person, String recipient, String purpose, @Nullable String note,
			@Nullable UUID appointment, String kind, String state, @Nullable String problem, String queued,
			int attempts, @Nullable String next, @Nullable String sent, boolean failed) {
	}

	Line line(OutboxMessage message) {
		return new Line(message.id(), message.patient(), message.person(), message.recipient(),
				"contactlink.outbox.purpose." + message.purpose().word(),
				(message.starts() != null) ? Written.time(message.starts(), this.clock.getZone()) : null,
				message.appointment(), kind(message), "contactlink.outbox.state." + message.state().word(),
				(message.problem() != null) ? "contactlink.outbox.problem." + message.problem().word() : null,
				Written.time(message.queuedAt(), this.clock.getZone()), message.attempts(),
				(message.nextAttemptAt() != null) ? Written.time(message.nextAttemptAt(), this.clock.getZone()) : null,
				(message.sentAt() != null) ? Written.time(message.sentAt(), this.clock.getZone()) : null,
				message.state() == OutboxMessage.State.FAILED);
	}

	private static String kind(OutboxMessage message) {
		return switch (message.state()) {
			case FAILED -> "caution";
			case WAITING, SENDING -> "wait";
			case SENT -> "window";
			case WITHDRAWN -> "same";
		};
	}

	static String key(Required required) {
		return "contactlink.missing." + required.name().toLowerCase(Locale.ROOT).replace('_', '-');
	}

}
