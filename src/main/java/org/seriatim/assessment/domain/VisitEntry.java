package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.util.Map;

import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;

/**
 * What one assessor enters of one day. Of what was not looked at there is no entry, or an
 * empty one.
 */
public record VisitEntry(Map<ScarId, ScarMeasurement> scars, Map<Region, PoreFinding> pores,
		Map<ScaleItem, BigDecimal> scales) {

	public VisitEntry {
		scars = Map.copyOf(scars);
		pores = Map.copyOf(pores);
		scales = Map.copyOf(scales);
	}

	public boolean isEmpty() {
		return this.scars.values().stream().allMatch(ScarMeasurement::isEmpty)
				&& this.pores.values().stream().allMatch(PoreFinding::isEmpty) && this.scales.isEmpty();
	}

}
