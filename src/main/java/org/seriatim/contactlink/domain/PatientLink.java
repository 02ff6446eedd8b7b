package org.seriatim.contactlink.domain;

import java.time.Instant;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SessionId;

/**
 * A link as it is kept.
 *
 * @param madeBy nobody for what the service itself made
 * @param endedAt when it was taken back or another took its place
 * @param answers how often it was answered
 * @param open whether an answer is taken now
 */
public record PatientLink(LinkId id, PatientId patient, SessionId session, Instant madeAt, @Nullable StaffId madeBy,
		Instant expiresAt, @Nullable Instant endedAt, int answers, boolean open) {
}
