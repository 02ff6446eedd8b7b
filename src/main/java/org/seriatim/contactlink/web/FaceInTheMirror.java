package org.seriatim.contactlink.web;

import java.util.Arrays;
import java.util.List;

import org.seriatim.assessment.FaceMap;
import org.seriatim.assessment.FaceSheet;
import org.seriatim.assessment.Region;

/**
 * The face map as patients see themselves in a mirror, their left side on the left. A
 * page for patients has no scripts, so each region has a spot that is the label of its
 * box in the list beside.
 *
 * @param spots in the order of the list
 */
record FaceInTheMirror(List<Spot> spots) {

	/** Half the side of what a finger has to hit, in units of the sheet. */
	private static final double REACH = 24;

	/**
	 * A region.
	 *
	 * @param word the region's
	 * @param outline path of an SVG on the {@link FaceSheet}
	 * @param x left end of what a finger has to hit, a square of {@link #side()}
	 * @param y its upper end
	 */
	record Spot(String word, String outline, String x, String y) {

		static Spot of(Region region) {
			var centre = FaceMap.centre(region);
			// a region that lies on both sides is touched in its middle
			var x = FaceMap.contains(region, 0.5, centre.y()) ? 0.5 : centre.x();
			return new Spot(region.word(), FaceSheet.mirrored(region),
					FaceSheet.number(FaceSheet.WIDTH * (1 - x) - REACH),
					FaceSheet.number(FaceSheet.HEIGHT * centre.y() - REACH));
		}

		public String side() {
			return FaceSheet.number(2 * REACH);
		}

	}

	static FaceInTheMirror whole() {
		return new FaceInTheMirror(Arrays.stream(Region.values()).map(Spot::of).toList());
	}

}
