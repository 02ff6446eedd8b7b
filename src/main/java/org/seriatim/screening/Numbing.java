package org.seriatim.screening;

import java.time.Duration;
import java.time.Instant;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

/**
 * The anaesthetic cream from its start to its stop.
 *
 * @param stoppedAt {@code null} while it is on
 */
public record Numbing(UUID id, Instant startedAt, @Nullable Instant stoppedAt, Long version) {

	public boolean isOn() {
		return this.stoppedAt == null;
	}

	/** Whole minutes until it was stopped, or until now. */
	public int minutes(Instant now) {
		return (int) Duration.between(this.startedAt, (this.stoppedAt != null) ? this.stoppedAt : now).toMinutes();
	}

}
