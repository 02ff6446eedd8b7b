package org.seriatim.record.domain;

import java.time.LocalDate;

import org.seriatim.access.StaffId;
import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.Region;

/** Scars of one type counted in one region on one day by one assessor. */
public record CountEntry(Region region, CountedType type, LocalDate assessedOn, StaffId assessor, String assessorName,
		int count) {
}
