package org.seriatim.finding.domain;

import java.util.Optional;

import org.seriatim.assessment.Region;
import org.seriatim.finding.FindingSide;

/** Which side a region lies on, where it lies on one. */
public final class FindingSides {

	private FindingSides() {
	}

	/** Empty for a region that both sides share, such as the forehead. */
	public static Optional<FindingSide> of(Region region) {
		if (region.word().endsWith("_left")) {
			return Optional.of(FindingSide.LEFT);
		}
		return region.word().endsWith("_right") ? Optional.of(FindingSide.RIGHT) : Optional.empty();
	}

}
