package org.seriatim.treatment.web;

import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;
import org.seriatim.treatment.domain.Series;
import org.seriatim.treatment.domain.SeriesPlan;

/**
 * What a series is for.
 *
 * @param reason why it is changed; for an existing series only
 */
record SeriesForm(@Nullable Long version, @Size(max = 200) @Nullable String goal,
		@Decimal(min = "1", max = "99") @Nullable String plannedSessions, @Size(max = 400) @Nullable String reason) {

	static SeriesForm empty() {
		return new SeriesForm(null, null, null, null);
	}

	static SeriesForm from(Series series) {
		return new SeriesForm(series.version(), series.plan().goal(), DecimalText.of(series.plan().plannedSessions()),
				null);
	}

	SeriesPlan toPlan() {
		return new SeriesPlan(this.goal, DecimalText.whole(this.plannedSessions));
	}

}
