package org.seriatim.record.domain;

import java.util.List;

import org.seriatim.assessment.RatedScar;
import org.seriatim.assessment.ScarRating;
import org.seriatim.assessment.TrackedScar;

/**
 * A tracked scar with every assessment of it, the earliest first, and what else was said
 * of it.
 */
public record ScarEntry(TrackedScar scar, List<ScarAssessmentEntry> assessments, List<ScarStateEntry> states) {

	public ScarEntry {
		assessments = List.copyOf(assessments);
		states = List.copyOf(states);
	}

	/** The same as stages and change are computed from. */
	public RatedScar rated() {
		return new RatedScar(this.scar.id(), this.scar.label(), this.scar.region(), this.scar.type(),
				this.assessments.stream()
					.map((entry) -> new ScarRating(entry.assessedOn(),
							(entry.depthMm() != null) ? entry.depthMm().doubleValue() : null, entry.depthMethod(),
							entry.severity()))
					.toList(),
				this.states.stream().map(ScarStateEntry::classification).toList());
	}

}
