package org.seriatim.finding.domain;

import java.math.BigDecimal;
import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.Channel;
import org.seriatim.finding.Reporter;

/**
 * What was seen or told at one contact.
 *
 * @param sizeMm largest diameter in millimetres, if measured
 */
public record ObservationDetails(LocalDate observedOn, Reporter reporter, Channel channel, boolean present,
		@Nullable BigDecimal sizeMm) {

	/** Whether it is the same observation: one a day, reporter and channel. */
	boolean isOfTheSameContactAs(ObservationDetails other) {
		return this.observedOn.equals(other.observedOn) && this.reporter == other.reporter
				&& this.channel == other.channel;
	}

	boolean saysTheSameAs(ObservationDetails other) {
		return isOfTheSameContactAs(other) && this.present == other.present && sameSize(other.sizeMm);
	}

	private boolean sameSize(@Nullable BigDecimal other) {
		return (this.sizeMm == null || other == null) ? this.sizeMm == other : this.sizeMm.compareTo(other) == 0;
	}

}
