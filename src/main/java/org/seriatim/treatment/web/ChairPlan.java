package org.seriatim.treatment.web;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Function;

import org.seriatim.assessment.FaceMap;
import org.seriatim.assessment.FaceSheet;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.treatment.Target;
import org.seriatim.treatment.domain.UsualPractice;

/**
 * The plan of the face on which the place of an injection is chosen, and the same places
 * as a list. They come in the order that spares pain, lateral before central, and scars
 * before pores (common practice, no source).
 *
 * @param regions in that order
 */
record ChairPlan(List<Place> regions) {

	/** How far marks without a position stand apart, in units of the drawing. */
	private static final double APART = 18;

	private static final int IN_A_ROW = 3;

	private static final List<Region> ORDER = List.of(Region.TEMPLE_RIGHT, Region.TEMPLE_LEFT,
			Region.CHEEK_LATERAL_RIGHT, Region.CHEEK_LATERAL_LEFT, Region.JAWLINE_RIGHT, Region.JAWLINE_LEFT,
			Region.CHEEK_MEDIAL_RIGHT, Region.CHEEK_MEDIAL_LEFT, Region.NASOLABIAL_RIGHT, Region.NASOLABIAL_LEFT,
			Region.PERIORBITAL_RIGHT, Region.PERIORBITAL_LEFT, Region.FOREHEAD, Region.GLABELLA, Region.NOSE,
			Region.PERIORAL, Region.CHIN, Region.NECK);

	ChairPlan {
		regions = List.copyOf(regions);
	}

	/**
	 * A region with its scars.
	 *
	 * @param outline path of an SVG on the {@link FaceSheet}
	 * @param vessels whether the region has vessels whose occlusion has led to loss of
	 * sight
	 * @param poreNote the clinic's notes on pores here
	 * @param scarNote the clinic's notes on scars here
	 */
	record Place(Region region, String text, String outline, boolean vessels, String poreNote, String scarNote,
			List<Mark> scars) {

		Place {
			scars = List.copyOf(scars);
		}

	}

	/**
	 * A tracked scar.
	 *
	 * @param placed whether it has its own position on the face map
	 */
	record Mark(String scar, String text, String x, String y, boolean placed) {
	}

	/**
	 * The plan for a patient's scars.
	 * @param practice of the clinic, whose notes stand beside the place
	 * @param words what a region is called
	 */
	static ChairPlan of(List<TrackedScar> scars, UsualPractice practice, Function<Region, String> words) {
		return new ChairPlan(ORDER.stream()
			.map((region) -> new Place(region, words.apply(region), FaceSheet.outline(region), region.hasVessels(),
					note(practice, region, Target.PORES), note(practice, region, Target.SCAR), marks(region, scars)))
			.toList());
	}

	private static String note(UsualPractice practice, Region region, Target target) {
		return String.join(" ", practice.on(region, target));
	}

	private static List<Mark> marks(Region region, List<TrackedScar> scars) {
		var marks = new ArrayList<Mark>();
		var unplaced = 0;
		for (var scar : scars.stream()
			.filter((one) -> one.region() == region)
			.sorted(Comparator.comparing(TrackedScar::label))
			.toList()) {
			if (scar.x() != null && scar.y() != null) {
				marks.add(new Mark(scar.id().toString(), scar.label(), FaceSheet.across(scar.x().doubleValue()),
						FaceSheet.down(scar.y().doubleValue()), true));
			}
			else {
				var centre = FaceMap.centre(region);
				marks.add(new Mark(scar.id().toString(), scar.label(),
						FaceSheet.number(centre.x() * FaceSheet.WIDTH + (unplaced % IN_A_ROW - 1) * APART),
						FaceSheet.number(centre.y() * FaceSheet.HEIGHT + unplaced / IN_A_ROW * APART), false));
				unplaced++;
			}
		}
		return marks;
	}

}
