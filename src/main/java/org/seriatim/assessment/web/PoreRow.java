package org.seriatim.assessment.web;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.domain.PoreFinding;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.RowKey;

/**
 * The line of one region's pores in the form of a visit.
 *
 * @param region the region's word
 */
record PoreRow(@RowKey @Nullable String region, @Decimal(min = "0", max = "4") @Nullable String grade,
		@Decimal(min = "0", max = "10000", fraction = 2) @Nullable String poresPerCm2) {

	static PoreRow empty(String region) {
		return new PoreRow(region, null, null);
	}

	static PoreRow from(String region, PoreFinding finding) {
		return new PoreRow(region, DecimalText.of(finding.grade()), DecimalText.of(finding.poresPerCm2()));
	}

	boolean isEmpty() {
		return this.grade == null && this.poresPerCm2 == null;
	}

	PoreFinding toFinding() {
		return new PoreFinding(DecimalText.whole(this.grade), DecimalText.value(this.poresPerCm2));
	}

}
