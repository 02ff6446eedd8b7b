package org.seriatim.assessment.web;

import java.util.Arrays;
import java.util.Collection;
import java.util.List;

import org.seriatim.assessment.Region;
import org.seriatim.assessment.domain.ScarLabels;

/**
 * A region in the form of a scar, its outline on the sheet of the face map and the label
 * that a scar there would get.
 */
record RegionOption(Region region, String nextLabel, String outline) {

	static List<RegionOption> all(Collection<String> takenLabels, FaceMapDrawing drawing) {
		return Arrays.stream(Region.values())
			.map((region) -> new RegionOption(region, ScarLabels.next(region, takenLabels), drawing.outline(region)))
			.toList();
	}

	public String word() {
		return this.region.word();
	}

}
