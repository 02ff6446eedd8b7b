package org.seriatim.appointment.web;

import java.time.LocalDate;
import java.time.LocalTime;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;

/**
 * An appointment as it is typed, to be booked or moved.
 *
 * @param visitMinutes how long it takes; what is usual where none is given
 * @param numbingMinutes how long before it the patient comes
 * @param reason why it stands where it usually would not, or why it is moved
 * @param version the version that a form that moves one shows
 */
record BookingForm(@NotNull(message = "{appointment.purpose.missing}") @Nullable AppointmentPurpose visitFor,
		@NotNull(message = "{appointment.practitioner.missing}") @Nullable StaffId practitioner,
		@NotNull(message = "{appointment.day.missing}") @Nullable LocalDate visitDay,
		@NotNull(message = "{appointment.time.missing}") @Nullable LocalTime visitTime,
		@Decimal(min = "5", max = "480", unit = "minutes") @Nullable String visitMinutes,
		@Decimal(min = "0", max = "300", unit = "minutes") @Nullable String numbingMinutes,
		@Size(max = 400) @Nullable String reason, @Nullable Long version) {

	static BookingForm of(AppointmentPurpose purpose, @Nullable StaffId practitioner, @Nullable LocalDate day,
			@Nullable LocalTime time, @Nullable Long version) {
		return new BookingForm(purpose, practitioner, day, time, null, null, null, version);
	}

	@Nullable Integer length() {
		return DecimalText.whole(this.visitMinutes);
	}

	@Nullable Integer numbing() {
		return DecimalText.whole(this.numbingMinutes);
	}

}
