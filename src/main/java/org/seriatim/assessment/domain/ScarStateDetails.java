package org.seriatim.assessment.domain;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarStanding;

/**
 * What became of a scar.
 *
 * @param into the scar with which it merged, or those that it became
 * @param reason why it is followed no longer
 */
public record ScarStateDetails(ScarStanding standing, List<ScarId> into, @Nullable String reason) {

	public ScarStateDetails {
		into = List.copyOf(into);
	}

}
