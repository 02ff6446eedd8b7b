package org.seriatim.appointment;

import java.util.UUID;

/** Identifies an appointment. */
public record AppointmentId(UUID value) {

	public static AppointmentId of(String value) {
		return new AppointmentId(UUID.fromString(value));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
