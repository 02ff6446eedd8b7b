package org.seriatim.privacy.domain;

import java.time.Instant;

import org.jspecify.annotations.Nullable;

/**
 * An erasure as the register keeps it.
 *
 * @param patient the opaque id that the audit log knows the patient by
 * @param by name of who erased
 */
public record PastErasure(String patient, Instant at, @Nullable String by, String reason, @Nullable String note,
		int sessions, int findings) {
}
