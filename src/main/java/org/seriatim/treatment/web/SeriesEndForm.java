package org.seriatim.treatment.web;

import java.time.LocalDate;
import java.util.Objects;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.treatment.SeriesStatus;
import org.seriatim.treatment.domain.Series;
import org.seriatim.treatment.domain.SeriesEnd;

/**
 * How a series ended; open for one whose end was entered by mistake.
 */
record SeriesEndForm(@Nullable Long version, @NotNull @Nullable SeriesStatus status, @Nullable LocalDate endedOn,
		@NotBlank @Size(max = 400) @Nullable String reason) {

	static SeriesEndForm from(Series series, LocalDate today) {
		return series.isOpen() ? new SeriesEndForm(series.version(), null, today, null)
				: new SeriesEndForm(series.version(), series.status(), series.endedOn(), series.reason());
	}

	boolean reopens() {
		return this.status == SeriesStatus.OPEN;
	}

	SeriesEnd toEnd() {
		return new SeriesEnd(Objects.requireNonNull(this.status), Objects.requireNonNull(this.endedOn),
				Objects.requireNonNull(this.reason));
	}

}
