package org.seriatim.finding.web;

import java.time.LocalDate;
import java.util.Objects;
import java.util.Set;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.finding.Channel;
import org.seriatim.finding.RedFlagSign;
import org.seriatim.finding.Reporter;
import org.seriatim.finding.domain.Observation;
import org.seriatim.finding.domain.ObservationDetails;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;

/**
 * An observation of a finding, new or to be corrected.
 *
 * @param signs alarming signs, which open the caution before anything else is looked at
 * @param reason why it is corrected
 * @param version the version that the form shows
 */
record ObservationForm(@Nullable Set<RedFlagSign> signs,
		@NotNull(message = "{finding.day.missing}") @Nullable LocalDate observedOn,
		@NotNull(message = "{finding.reporter.missing}") @Nullable Reporter reporter,
		@NotNull(message = "{finding.channel.missing}") @Nullable Channel channel,
		@NotNull(message = "{finding.present.missing}") @Nullable Boolean present,
		@Decimal(min = "0.1", max = "200", fraction = 1, unit = "mm") @Nullable String sizeMm,
		@Size(max = 500) @Nullable String reason, @Nullable Long version) {

	static ObservationForm empty(LocalDate today) {
		return new ObservationForm(Set.of(), today, null, null, null, null, null, null);
	}

	static ObservationForm from(Observation observation) {
		var known = observation.details();
		return new ObservationForm(Set.of(), known.observedOn(), known.reporter(), known.channel(), known.present(),
				DecimalText.of(known.sizeMm()), null, observation.version());
	}

	boolean isAlarming() {
		return this.signs != null && !this.signs.isEmpty();
	}

	/** What was typed, without the signs, which have been raised. */
	ObservationForm again() {
		return new ObservationForm(Set.of(), this.observedOn, this.reporter, this.channel, this.present, this.sizeMm,
				this.reason, this.version);
	}

	ObservationDetails toDetails() {
		return new ObservationDetails(Objects.requireNonNull(this.observedOn), Objects.requireNonNull(this.reporter),
				Objects.requireNonNull(this.channel), Objects.requireNonNull(this.present),
				DecimalText.value(this.sizeMm));
	}

}
