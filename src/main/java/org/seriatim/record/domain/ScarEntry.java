package org.seriatim.record.domain;

import java.util.List;

import org.seriatim.assessment.RatedScar;
import org.seriatim.assessment.ScarRating;
import org.seriatim.assessment.TrackedScar;

/**
 * A tracked scar with every assessment of it, the earliest first.
 */
public record ScarEntry(TrackedScar scar, List<ScarAssessmentEntry> assessments) {

	public ScarEntry {
		assessments = List.copyOf(assessments);
	}

	/** The same as stages and change are computed from. */
	public RatedScar rated() {
		return new RatedScar(this.scar.id(), this.scar.label(), this.scar.region(), this.scar.type(),
				this.assessments.stream()
					.map((entry) -> new ScarRating(entry.assessedOn(),
							(entry.depthMm() != null) ? entry.depthMm().doubleValue() : null, entry.depthMethod(),
							entry.severity()))
					.toList());
	}

}
