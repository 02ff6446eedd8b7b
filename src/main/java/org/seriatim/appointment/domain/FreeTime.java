package org.seriatim.appointment.domain;

import org.seriatim.access.StaffMember;

/** A time for which a practitioner can be booked. */
public record FreeTime(StaffMember practitioner, Span time) {
}
