package org.seriatim.record.domain;

import java.time.Instant;
import java.util.UUID;

import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.followup.AppointmentStatus;

/** A booked time with one practitioner. */
public record AppointmentEntry(UUID id, String practitioner, Instant startsAt, AppointmentPurpose purpose,
		AppointmentStatus status) {
}
