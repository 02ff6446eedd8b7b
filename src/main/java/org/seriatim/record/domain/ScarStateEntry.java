package org.seriatim.record.domain;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.ScarClassification;
import org.seriatim.assessment.ScarStanding;

/**
 * What somebody said on one day had become of a scar.
 *
 * @param into the labels of the scars that it became
 */
public record ScarStateEntry(LocalDate assessedOn, String assessor, ScarStanding standing, @Nullable String into,
		@Nullable String reason) {

	ScarClassification classification() {
		return new ScarClassification(this.assessedOn, this.standing);
	}

}
