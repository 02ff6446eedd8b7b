package org.seriatim.appointment.web;

import org.jspecify.annotations.Nullable;
import org.seriatim.appointment.domain.Appointment;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;

/** How long before one appointment the patient comes; nothing for what is usual. */
record NumbingForm(@Decimal(min = "0", max = "300", unit = "minutes") @Nullable String numbingMinutes,
		@Nullable Long version) {

	static NumbingForm of(Appointment appointment) {
		return new NumbingForm(appointment.ownNumbing() ? Integer.toString(appointment.numbingMinutes()) : null,
				appointment.version());
	}

	@Nullable Integer minutes() {
		return DecimalText.whole(this.numbingMinutes);
	}

}
