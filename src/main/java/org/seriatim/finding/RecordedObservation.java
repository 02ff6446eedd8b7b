package org.seriatim.finding;

import java.math.BigDecimal;
import java.time.LocalDate;

import org.jspecify.annotations.Nullable;

/**
 * One contact at which a finding was present or absent.
 *
 * @param sizeMm largest diameter, if measured
 */
public record RecordedObservation(LocalDate observedOn, Reporter reporter, Channel channel, boolean present,
		@Nullable BigDecimal sizeMm) {

	public ObservationFacts facts() {
		return new ObservationFacts(this.observedOn, this.present);
	}

}
