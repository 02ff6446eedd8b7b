package org.seriatim.assessment;

import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;

/**
 * The sheet on which the face map is drawn: the unit square becomes an SVG of
 * {@value #WIDTH} by {@value #HEIGHT}, which gives a face its proportions.
 */
public final class FaceSheet {

	public static final double WIDTH = 400;

	public static final double HEIGHT = 540;

	private FaceSheet() {
	}

	/** The outline of a region as the path of an SVG, as one faces the patient. */
	public static String outline(Region region) {
		return path(FaceMap.outline(region).corners());
	}

	/** The same as patients see themselves in a mirror, their left side on the left. */
	public static String mirrored(Region region) {
		return path(FaceMap.outline(region).corners().stream().map(MapPoint::mirrored).toList());
	}

	/** Across the sheet, for an {@code x} of the map. */
	public static String across(double x) {
		return number(WIDTH * x);
	}

	/** Down the sheet, for a {@code y} of the map. */
	public static String down(double y) {
		return number(HEIGHT * y);
	}

	/** A length or place of the sheet as an SVG takes it. */
	public static String number(double value) {
		return String.format(Locale.ROOT, "%.1f", value);
	}

	private static String path(List<MapPoint> corners) {
		return corners.stream()
			.map((corner) -> across(corner.x()) + " " + down(corner.y()))
			.collect(Collectors.joining("L", "M", "Z"));
	}

}
