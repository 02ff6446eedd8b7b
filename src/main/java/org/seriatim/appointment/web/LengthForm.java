package org.seriatim.appointment.web;

import jakarta.validation.constraints.NotNull;
import org.jspecify.annotations.Nullable;
import org.seriatim.appointment.domain.VisitLength;
import org.seriatim.shell.Decimal;

/** How long visits of one purpose take, as it is typed. */
record LengthForm(@Nullable Long version,
		@NotNull @Decimal(min = "5", max = "480", unit = "minutes") @Nullable String visitMinutes,
		@NotNull @Decimal(min = "0", max = "300", unit = "minutes") @Nullable String numbingMinutes) {

	static LengthForm from(VisitLength length) {
		return new LengthForm(length.version(), Integer.toString(length.minutes()),
				Integer.toString(length.numbingMinutes()));
	}

}
