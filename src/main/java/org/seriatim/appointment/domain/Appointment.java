package org.seriatim.appointment.domain;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffMember;
import org.seriatim.appointment.AppointmentId;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.followup.AppointmentStatus;
import org.seriatim.patient.PatientId;

/**
 * A booked time with one practitioner.
 *
 * @param numbingMinutes how long before its start the patient comes for the numbing cream
 * @param ownNumbing whether a practitioner set that for this appointment
 * @param exceptions why it usually would not stand there
 * @param exceptionReason why it does
 */
public record Appointment(AppointmentId id, PatientId patient, String recordNumber, @Nullable String familyName,
		@Nullable String givenName, @Nullable String phone, StaffMember practitioner, Span time,
		AppointmentPurpose purpose, AppointmentStatus status, int numbingMinutes, boolean ownNumbing,
		List<Exceptional> exceptions, @Nullable String exceptionReason, long version, Recorded recorded) {

	/** When the patient is to come. */
	public Instant arrival() {
		return this.time.start().minus(Duration.ofMinutes(this.numbingMinutes));
	}

	/** Whether it holds its time. */
	public boolean isHeld() {
		return this.status == AppointmentStatus.BOOKED || this.status == AppointmentStatus.ARRIVED;
	}

	/** How a page calls the patient. */
	public String person() {
		var name = Stream.of(this.familyName, this.givenName)
			.filter(java.util.Objects::nonNull)
			.collect(Collectors.joining(", "));
		return name.isEmpty() ? this.recordNumber : name;
	}

	/** Prints no content of the record. */
	@Override
	public String toString() {
		return "Appointment " + this.id;
	}

}
