package org.seriatim.treatment.domain;

import java.time.Instant;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.treatment.ProtocolVersion;

/**
 * A protocol version with the circumstances of its publication.
 *
 * @param publishedBy nobody for the version that a clinic starts with
 */
public record PublishedVersion(ProtocolVersion version, Instant publishedAt, @Nullable StaffId publishedBy,
		@Nullable String note) {
}
