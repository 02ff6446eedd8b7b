package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.DepthMethod;

/**
 * What was last known of a scar. Each value is of the last day on which there was one.
 *
 * @param lastOn the last day on which anything of it was assessed
 */
public record EarlierScar(LocalDate lastOn, @Nullable Dated<BigDecimal> lengthMm, @Nullable Dated<BigDecimal> widthMm,
		@Nullable Dated<BigDecimal> depthMm, @Nullable Dated<DepthMethod> depthMethod,
		@Nullable Dated<DepthClass> depthClass, @Nullable Dated<Integer> severity, @Nullable Dated<Integer> response) {

	static EarlierScar on(LocalDate day) {
		return new EarlierScar(day, null, null, null, null, null, null, null);
	}

	/** The same after a later assessment. */
	EarlierScar then(LocalDate day, ScarMeasurement measured) {
		return new EarlierScar(day, later(this.lengthMm, measured.lengthMm(), day),
				later(this.widthMm, measured.widthMm(), day), later(this.depthMm, measured.depthMm(), day),
				later(this.depthMethod, measured.depthMethod(), day),
				later(this.depthClass, measured.depthClass(), day), later(this.severity, measured.severity(), day),
				later(this.response, measured.response(), day));
	}

	static <T> @Nullable Dated<T> later(@Nullable Dated<T> before, @Nullable T value, LocalDate day) {
		return (value != null) ? new Dated<>(value, day) : before;
	}

}
