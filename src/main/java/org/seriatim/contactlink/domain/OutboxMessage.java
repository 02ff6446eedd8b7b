package org.seriatim.contactlink.domain;

import java.time.Instant;
import java.util.Locale;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.patient.PatientId;

/**
 * Mail to a patient.
 *
 * @param link that it carries, if it does
 * @param appointment that it reminds of, if it does
 * @param starts the time that it names
 * @param person whom it goes to, by name or else by record number
 * @param nextAttemptAt when it is tried next; only while it waits
 * @param problem why it did not go, if it did not
 */
public record OutboxMessage(UUID id, PatientId patient, MailPurpose purpose, @Nullable LinkId link,
		@Nullable UUID appointment, @Nullable Instant starts, String person, String recipient, State state,
		Instant queuedAt, int attempts, @Nullable Instant nextAttemptAt, @Nullable Instant sentAt,
		@Nullable Problem problem) {

	/** Where it stands. */
	public enum State {

		WAITING, SENDING, SENT, FAILED, WITHDRAWN;

		/** The word in the database. */
		public String word() {
			return name().toLowerCase(Locale.ROOT);
		}

	}

	/** Why a message did not go, or not yet. */
	public enum Problem {

		/** The server did not answer, or not in time, before it was given the message. */
		NO_ANSWER,
		/** The server did not let the service in. */
		NOT_LET_IN,
		/** The server said to come later. */
		LATER,
		/** The server will not take it: the address, the sender or the content. */
		REFUSED,
		/** The address is none. */
		NO_ADDRESS,
		/** The server was given the message, and nobody knows whether it took it. */
		UNCLEAR,
		/** It was tried for the longest time. */
		GAVE_UP,
		/** The patient wants no mail. */
		OPTED_OUT,
		/** The link it carries no longer opens. */
		LINK_OVER,
		/**
		 * The appointment was moved or cancelled, is near, is on hold, or none is
		 * reminded of.
		 */
		NOT_DUE;

		/** The word in the database. */
		public String word() {
			return name().toLowerCase(Locale.ROOT);
		}

	}

	/** Prints nothing of the patient. */
	@Override
	public String toString() {
		return "OutboxMessage " + this.id;
	}

}
