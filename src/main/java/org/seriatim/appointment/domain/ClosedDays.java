package org.seriatim.appointment.domain;

import java.time.LocalDate;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;

/**
 * Days on which the clinic is closed or a practitioner is away.
 *
 * @param practitioner who is away; none where the whole clinic is closed
 * @param note why the clinic is closed
 */
public record ClosedDays(UUID id, @Nullable StaffId practitioner, LocalDate first, LocalDate last,
		@Nullable String note, long version) {

	public boolean isOn(LocalDate day) {
		return !day.isBefore(this.first) && !day.isAfter(this.last);
	}

}
