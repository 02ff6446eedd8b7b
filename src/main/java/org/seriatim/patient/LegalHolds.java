package org.seriatim.patient;

import java.time.Instant;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;

/** Which records are on hold: neither erased nor taken into a retention batch. */
public interface LegalHolds {

	Optional<LegalHold> of(PatientId patient);

	/** A hold that was set and not lifted yet. */
	record LegalHold(String reason, Instant setAt, @Nullable StaffId setBy) {
	}

}
