package org.seriatim.access;

import java.time.Instant;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import jakarta.persistence.Embedded;
import org.jspecify.annotations.Nullable;

/**
 * Who entered this version of an entry, when, and, where it replaced an earlier one, why.
 *
 * @param recordedBy nobody for what the service itself or a command entered
 * @param correctionReason none for a first version
 */
@Embeddable
public record Recorded(Instant recordedAt,
		@Embedded @AttributeOverride(name = "value",
				column = @Column(name = "recorded_by")) @Nullable StaffId recordedBy,
		@Nullable String correctionReason) {

	/** A first version. */
	public static Recorded first(Instant now, CurrentStaff staff) {
		return new Recorded(now, staff.id().orElse(null), null);
	}

	/** A version that replaces an earlier one. */
	public static Recorded correction(Instant now, CurrentStaff staff, String reason) {
		if (reason.isBlank()) {
			throw new IllegalArgumentException("a correction needs a reason");
		}
		return new Recorded(now, staff.id().orElse(null), reason.strip());
	}

}
