package org.seriatim.record.web;

import java.time.LocalDate;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.followup.AdviceId;

/**
 * What a practitioner makes of an advice.
 *
 * @param advice the advice that was on the page
 * @param accept whether it is accepted as it is; else it is overridden
 * @param reason why it is overridden
 * @param firstDay first day of the own window
 * @param lastDay last day of the own window
 */
record DecisionForm(@NotNull @Nullable AdviceId advice, @Nullable Boolean accept,
		@Size(max = 1000) @Nullable String reason, @Nullable LocalDate firstDay, @Nullable LocalDate lastDay) {

	static DecisionForm empty() {
		return new DecisionForm(null, null, null, null, null);
	}

	boolean accepts() {
		return Boolean.TRUE.equals(this.accept);
	}

}
