package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.time.LocalDate;

import org.jspecify.annotations.Nullable;

/** What was last known of the pores of a region. */
public record EarlierPores(@Nullable Dated<Integer> grade, @Nullable Dated<BigDecimal> poresPerCm2) {

	static final EarlierPores NONE = new EarlierPores(null, null);

	EarlierPores then(LocalDate day, PoreFinding finding) {
		return new EarlierPores(EarlierScar.later(this.grade, finding.grade(), day),
				EarlierScar.later(this.poresPerCm2, finding.poresPerCm2(), day));
	}

}
