package org.seriatim.finding;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;

/**
 * A possible emergency that no practitioner has closed, without what it is: as much as
 * everybody may know who may open the patient.
 *
 * @param raisedAt when it was raised, or came into the record
 * @param raisedBy by whom; nobody for what a bundle brought
 * @param acknowledgedAt when a practitioner took notice
 */
public record RaisedRedFlag(FindingId finding, Instant raisedAt, @Nullable StaffId raisedBy,
		@Nullable Instant acknowledgedAt, @Nullable StaffId acknowledgedBy) {

	public boolean isAcknowledged() {
		return this.acknowledgedAt != null;
	}

	/** How long it waited for a practitioner; empty while it waits. */
	public Optional<Duration> timeToAcknowledgement() {
		return Optional.ofNullable(this.acknowledgedAt).map((at) -> Duration.between(this.raisedAt, at));
	}

}
