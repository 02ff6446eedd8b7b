package org.seriatim.assessment.web;

import java.math.BigDecimal;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.domain.EarlierPores;

/** What the form of a visit shows beside the fields of one region's pores. */
record PoreLine(String region, @Nullable String grade, @Nullable String density) {

	static PoreLine of(Region region, @Nullable EarlierPores earlier) {
		return new PoreLine(region.word(),
				(earlier != null) ? ScarLine.written(earlier.grade(), null, ScarLine::whole) : null,
				(earlier != null) ? ScarLine.written(earlier.poresPerCm2(), null, BigDecimal::toPlainString) : null);
	}

}
