package org.seriatim.appointment.domain;

import java.util.UUID;

import org.seriatim.followup.AppointmentPurpose;

/**
 * How long a visit takes by its purpose.
 *
 * @param minutes with the practitioner
 * @param numbingMinutes before them, for the numbing cream
 */
public record VisitLength(UUID id, AppointmentPurpose purpose, int minutes, int numbingMinutes, long version) {
}
