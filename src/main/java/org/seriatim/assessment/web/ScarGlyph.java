package org.seriatim.assessment.web;

import java.util.Locale;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.ScarType;

/**
 * A scar as its own little cross-section: the skin's surface runs from left to right at
 * height 0, and what is missing lies below it. The width is 28, the depth follows the
 * depth class; a depth that is not known is drawn as a middle one with a broken line.
 */
final class ScarGlyph {

	private ScarGlyph() {
	}

	/** The drawing, as the path of an SVG. */
	static String path(ScarType type, @Nullable DepthClass depthClass) {
		var depth = depth(depthClass);
		return switch (type) {
			case ICE_PICK -> "M-14 0H-3L0 %1$sL3 0H14".formatted(number(depth + 2));
			case BOXCAR -> "M-14 0H-6V%1$sH6V0H14".formatted(number(depth));
			case ROLLING -> "M-14 0C-8 0 -6 %1$s 0 %1$sS8 0 14 0".formatted(number(0.85 * depth));
			case LINEAR -> "M-14 0H-12C-10 0 -10 %1$s -8 %1$sH8C10 %1$s 10 0 12 0H14".formatted(number(0.8 * depth));
			case FOLD -> "M-14 0C-7 -1 -1 -5 2 -2C4 1 -1 2 -2 %1$sC1 3 7 1 14 0".formatted(number(depth));
			case HYPERTROPHIC -> "M-14 6H-5C-5 -2 5 -2 5 6H14";
			case KELOID -> "M-14 6H-9C-13 -1 -6 -4 0 -3.5S13 -1 9 6H14";
			case MACULAR -> "M-14 2H14";
			case UNCLASSIFIED -> "M-5 2A5 5 0 1 0 5 2A5 5 0 1 0 -5 2Z";
		};
	}

	/** Whether the depth of such a scar is a depth at all. */
	static boolean hasDepth(ScarType type) {
		return switch (type) {
			case ICE_PICK, BOXCAR, ROLLING, LINEAR, FOLD -> true;
			case HYPERTROPHIC, KELOID, MACULAR, UNCLASSIFIED -> false;
		};
	}

	private static double depth(@Nullable DepthClass depthClass) {
		if (depthClass == null) {
			return 7.5;
		}
		return switch (depthClass) {
			case MINIMAL -> 3;
			case SHALLOW -> 7.5;
			case DEEP -> 11;
		};
	}

	private static String number(double value) {
		return String.format(Locale.ROOT, "%.1f", value);
	}

}
