package org.seriatim.assessment;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import static org.seriatim.assessment.Region.CHEEK_LATERAL_LEFT;
import static org.seriatim.assessment.Region.CHEEK_LATERAL_RIGHT;
import static org.seriatim.assessment.Region.CHEEK_MEDIAL_LEFT;
import static org.seriatim.assessment.Region.CHEEK_MEDIAL_RIGHT;
import static org.seriatim.assessment.Region.CHIN;
import static org.seriatim.assessment.Region.FOREHEAD;
import static org.seriatim.assessment.Region.GLABELLA;
import static org.seriatim.assessment.Region.JAWLINE_LEFT;
import static org.seriatim.assessment.Region.JAWLINE_RIGHT;
import static org.seriatim.assessment.Region.NASOLABIAL_LEFT;
import static org.seriatim.assessment.Region.NASOLABIAL_RIGHT;
import static org.seriatim.assessment.Region.NECK;
import static org.seriatim.assessment.Region.NOSE;
import static org.seriatim.assessment.Region.PERIORAL;
import static org.seriatim.assessment.Region.PERIORBITAL_LEFT;
import static org.seriatim.assessment.Region.PERIORBITAL_RIGHT;
import static org.seriatim.assessment.Region.TEMPLE_LEFT;
import static org.seriatim.assessment.Region.TEMPLE_RIGHT;

/**
 * Where the eighteen regions lie on the face map. Neighbours share their borders point by
 * point, so that a place of the face belongs to one region or lies on a border. The
 * outlines are our own drawing of a face seen from the front; they show which region is
 * meant and measure nothing.
 */
public final class FaceMap {

	/*
	 * Borders of the patient's right half as cubic curves: start, two control points,
	 * end. What crosses the middle of the face mirrors itself.
	 */
	private static final List<MapPoint> HAIRLINE = curve(0.215, 0.145, 0.30, 0.10, 0.40, 0.088, 0.50, 0.088);

	private static final List<MapPoint> TEMPLE_EDGE = curve(0.215, 0.145, 0.15, 0.18, 0.085, 0.27, 0.085, 0.455);

	private static final List<MapPoint> FOREHEAD_SIDE = curve(0.215, 0.145, 0.19, 0.20, 0.18, 0.27, 0.19, 0.322);

	private static final List<MapPoint> BROW = curve(0.19, 0.322, 0.24, 0.272, 0.36, 0.268, 0.435, 0.30);

	private static final List<MapPoint> GLABELLA_TOP = curve(0.435, 0.30, 0.46, 0.287, 0.48, 0.283, 0.50, 0.283);

	private static final List<MapPoint> GLABELLA_SIDE = curve(0.435, 0.30, 0.432, 0.335, 0.44, 0.365, 0.446, 0.392);

	private static final List<MapPoint> NASAL_ROOT = curve(0.446, 0.392, 0.465, 0.402, 0.48, 0.405, 0.50, 0.405);

	private static final List<MapPoint> NOSE_SIDE = curve(0.446, 0.392, 0.446, 0.42, 0.435, 0.45, 0.425, 0.478);

	private static final List<MapPoint> NOSE_FLANK = curve(0.425, 0.478, 0.418, 0.503, 0.398, 0.52, 0.393, 0.548);

	private static final List<MapPoint> NOSE_WING = curve(0.393, 0.548, 0.386, 0.565, 0.39, 0.588, 0.405, 0.592);

	private static final List<MapPoint> NOSE_BASE = curve(0.405, 0.592, 0.435, 0.608, 0.465, 0.609, 0.50, 0.609);

	private static final List<MapPoint> ORBIT_SIDE = curve(0.19, 0.322, 0.168, 0.365, 0.165, 0.415, 0.178, 0.452);

	private static final List<MapPoint> ORBIT_LATERAL_BASE = curve(0.178, 0.452, 0.20, 0.475, 0.225, 0.488, 0.252,
			0.496);

	private static final List<MapPoint> ORBIT_MEDIAL_BASE = curve(0.252, 0.496, 0.31, 0.515, 0.375, 0.505, 0.425,
			0.478);

	private static final List<MapPoint> CHEEKBONE = curve(0.085, 0.455, 0.115, 0.462, 0.15, 0.462, 0.178, 0.452);

	private static final List<MapPoint> CHEEK_EDGE = curve(0.085, 0.455, 0.085, 0.515, 0.098, 0.57, 0.112, 0.612);

	private static final List<MapPoint> CHEEK_MIDDLE = curve(0.252, 0.496, 0.24, 0.56, 0.24, 0.65, 0.248, 0.722);

	private static final List<MapPoint> JAW_LATERAL_TOP = curve(0.112, 0.612, 0.14, 0.655, 0.19, 0.70, 0.248, 0.722);

	private static final List<MapPoint> JAW_MEDIAL_TOP = curve(0.248, 0.722, 0.27, 0.736, 0.295, 0.748, 0.318, 0.757);

	private static final List<MapPoint> JAW_FRONT_TOP = curve(0.318, 0.757, 0.34, 0.766, 0.362, 0.772, 0.385, 0.775);

	private static final List<MapPoint> JAW_EDGE = curve(0.112, 0.612, 0.128, 0.69, 0.185, 0.77, 0.272, 0.826);

	private static final List<MapPoint> JAW_BASE = curve(0.272, 0.826, 0.305, 0.847, 0.345, 0.872, 0.385, 0.885);

	private static final List<MapPoint> FOLD_OUTER = curve(0.393, 0.548, 0.345, 0.59, 0.305, 0.665, 0.318, 0.757);

	private static final List<MapPoint> FOLD_INNER = curve(0.405, 0.592, 0.375, 0.64, 0.352, 0.71, 0.385, 0.775);

	private static final List<MapPoint> CHIN_TOP = curve(0.385, 0.775, 0.42, 0.757, 0.46, 0.752, 0.50, 0.752);

	private static final List<MapPoint> CHIN_SIDE = curve(0.385, 0.775, 0.378, 0.815, 0.38, 0.85, 0.385, 0.885);

	private static final List<MapPoint> CHIN_BASE = curve(0.385, 0.885, 0.42, 0.899, 0.46, 0.905, 0.50, 0.905);

	private static final List<MapPoint> NECK_SIDE = curve(0.272, 0.826, 0.285, 0.89, 0.285, 0.95, 0.262, 1.0);

	private static final Map<Region, RegionOutline> OUTLINES = outlines();

	private static final Map<Region, MapPoint> CENTRES = centres();

	private FaceMap() {
	}

	/** The outline of a region. */
	public static RegionOutline outline(Region region) {
		return OUTLINES.get(region);
	}

	/**
	 * Whether a place lies within a region or on its border; one outside is a
	 * data-quality item.
	 */
	public static boolean contains(Region region, double x, double y) {
		return outline(region).contains(x, y);
	}

	/** A place well within the region, for what has no position of its own. */
	public static MapPoint centre(Region region) {
		return CENTRES.get(region);
	}

	private static Map<Region, RegionOutline> outlines() {
		var outlines = new EnumMap<Region, RegionOutline>(Region.class);
		middle(outlines, FOREHEAD, back(HAIRLINE), FOREHEAD_SIDE, BROW, GLABELLA_TOP);
		middle(outlines, GLABELLA, back(GLABELLA_TOP), GLABELLA_SIDE, NASAL_ROOT);
		middle(outlines, NOSE, back(NASAL_ROOT), NOSE_SIDE, NOSE_FLANK, NOSE_WING, NOSE_BASE);
		middle(outlines, PERIORAL, back(NOSE_BASE), FOLD_INNER, CHIN_TOP);
		middle(outlines, CHIN, back(CHIN_TOP), CHIN_SIDE, CHIN_BASE);
		middle(outlines, NECK, back(CHIN_BASE), back(JAW_BASE), NECK_SIDE, List.of(new MapPoint(0.5, 1)));
		sides(outlines, TEMPLE_RIGHT, TEMPLE_LEFT, TEMPLE_EDGE, CHEEKBONE, back(ORBIT_SIDE), back(FOREHEAD_SIDE));
		sides(outlines, PERIORBITAL_RIGHT, PERIORBITAL_LEFT, BROW, GLABELLA_SIDE, NOSE_SIDE, back(ORBIT_MEDIAL_BASE),
				back(ORBIT_LATERAL_BASE), back(ORBIT_SIDE));
		sides(outlines, CHEEK_MEDIAL_RIGHT, CHEEK_MEDIAL_LEFT, ORBIT_MEDIAL_BASE, NOSE_FLANK, FOLD_OUTER,
				back(JAW_MEDIAL_TOP), back(CHEEK_MIDDLE));
		sides(outlines, CHEEK_LATERAL_RIGHT, CHEEK_LATERAL_LEFT, CHEEKBONE, ORBIT_LATERAL_BASE, CHEEK_MIDDLE,
				back(JAW_LATERAL_TOP), back(CHEEK_EDGE));
		sides(outlines, NASOLABIAL_RIGHT, NASOLABIAL_LEFT, NOSE_WING, FOLD_INNER, back(JAW_FRONT_TOP),
				back(FOLD_OUTER));
		sides(outlines, JAWLINE_RIGHT, JAWLINE_LEFT, JAW_LATERAL_TOP, JAW_MEDIAL_TOP, JAW_FRONT_TOP, CHIN_SIDE,
				back(JAW_BASE), back(JAW_EDGE));
		return outlines;
	}

	private static Map<Region, MapPoint> centres() {
		var centres = new EnumMap<Region, MapPoint>(Region.class);
		OUTLINES.forEach((region, outline) -> centres.put(region, outline.innermost()));
		return centres;
	}

	/*
	 * A region across the middle: its right half from the top of the middle line to the
	 * bottom, and the same backwards on the other side.
	 */
	@SafeVarargs
	private static void middle(Map<Region, RegionOutline> outlines, Region region, List<MapPoint>... borders) {
		var right = joined(borders);
		var left = back(right).stream().map(MapPoint::mirrored).toList();
		outlines.put(region, new RegionOutline(region, closed(joined(right, left))));
	}

	/* A region that there is on both sides, given for the patient's right. */
	@SafeVarargs
	private static void sides(Map<Region, RegionOutline> outlines, Region right, Region left,
			List<MapPoint>... borders) {
		var corners = closed(joined(borders));
		outlines.put(right, new RegionOutline(right, corners));
		outlines.put(left, new RegionOutline(left, corners.stream().map(MapPoint::mirrored).toList()));
	}

	@SafeVarargs
	private static List<MapPoint> joined(List<MapPoint>... borders) {
		var corners = new ArrayList<MapPoint>();
		for (var border : borders) {
			for (var point : border) {
				if (corners.isEmpty() || !corners.get(corners.size() - 1).equals(point)) {
					corners.add(point);
				}
			}
		}
		return corners;
	}

	private static List<MapPoint> closed(List<MapPoint> corners) {
		return corners.get(0).equals(corners.get(corners.size() - 1)) ? corners.subList(0, corners.size() - 1)
				: corners;
	}

	private static List<MapPoint> back(List<MapPoint> border) {
		var points = new ArrayList<MapPoint>();
		for (var i = border.size() - 1; i >= 0; i--) {
			points.add(border.get(i));
		}
		return points;
	}

	/* A cubic Bézier curve as eight straight pieces. */
	private static List<MapPoint> curve(double x0, double y0, double x1, double y1, double x2, double y2, double x3,
			double y3) {
		var points = new ArrayList<MapPoint>();
		for (var step = 0; step <= 8; step++) {
			var t = step / 8.0;
			var u = 1 - t;
			points.add(new MapPoint(u * u * u * x0 + 3 * u * u * t * x1 + 3 * u * t * t * x2 + t * t * t * x3,
					u * u * u * y0 + 3 * u * u * t * y1 + 3 * u * t * t * y2 + t * t * t * y3));
		}
		return points;
	}

}
