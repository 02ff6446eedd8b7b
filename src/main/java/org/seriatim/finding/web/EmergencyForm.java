package org.seriatim.finding.web;

import java.util.Set;

import jakarta.validation.constraints.NotEmpty;
import org.jspecify.annotations.Nullable;
import org.seriatim.finding.Channel;
import org.seriatim.finding.RedFlagSign;
import org.seriatim.finding.Reporter;

/**
 * Alarming signs that somebody tells of. One is enough; who told it, and how, is never
 * waited for.
 */
record EmergencyForm(@NotEmpty(message = "{finding.emergency.signs.missing}") @Nullable Set<RedFlagSign> signs,
		@Nullable Reporter reporter, @Nullable Channel channel) {

	static EmergencyForm empty() {
		return new EmergencyForm(Set.of(), Reporter.PATIENT, Channel.PHONE);
	}

	Reporter reporterOrPatient() {
		return (this.reporter != null) ? this.reporter : Reporter.PATIENT;
	}

	Channel channelOrPhone() {
		return (this.channel != null) ? this.channel : Channel.PHONE;
	}

}
