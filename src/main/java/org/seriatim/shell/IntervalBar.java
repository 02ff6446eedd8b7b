package org.seriatim.shell;

import org.jspecify.annotations.Nullable;

/**
 * An interval on a scale, the size of a table cell: a bar from its lower to its upper
 * limit and a mark at the estimate. An end that is not known, or lies beyond the scale,
 * is drawn as an arrow.
 *
 * @param start where the bar starts, as x of an SVG of {@value #WIDTH} by
 * {@value #HEIGHT}
 * @param length how long it is
 * @param estimate where the estimate is, {@code null} if there is none on the scale
 * @param openStart whether the interval goes on below the scale
 * @param openEnd whether the interval goes on above the scale
 * @param reference where a value to compare with is, {@code null} if there is none
 */
public record IntervalBar(String start, String length, @Nullable String estimate, boolean openStart, boolean openEnd,
		@Nullable String reference) {

	/** Width of the drawing. */
	public static final int WIDTH = 120;

	/** Height of the drawing. */
	public static final int HEIGHT = 20;

	private static final double MARGIN = 6;

	/**
	 * An interval on the scale from {@code from} to {@code to}.
	 * @param low lower limit, {@code null} if it is open
	 * @param estimate the estimate, {@code null} if there is none
	 * @param high upper limit, {@code null} if it is open
	 */
	public static IntervalBar of(@Nullable Double low, @Nullable Double estimate, @Nullable Double high, double from,
			double to) {
		if (!(from < to)) {
			throw new IllegalArgumentException("from must be below to, were " + from + " and " + to);
		}
		var start = x((low != null) ? low : from, from, to);
		var end = x((high != null) ? high : to, from, to);
		return new IntervalBar(Sparkline.number(start), Sparkline.number(Math.max(1, end - start)),
				(estimate != null && estimate >= from && estimate <= to) ? Sparkline.number(x(estimate, from, to))
						: null,
				low == null || low < from, high == null || high > to, null);
	}

	/** The same with a line at a value to compare with, on the same scale. */
	public IntervalBar against(double value, double from, double to) {
		return new IntervalBar(this.start, this.length, this.estimate, this.openStart, this.openEnd,
				Sparkline.number(x(value, from, to)));
	}

	/** The arrow at an open start, as the path of an SVG. */
	public String startArrow() {
		return "M6 6L1 10L6 14Z";
	}

	/** The arrow at an open end, as the path of an SVG. */
	public String endArrow() {
		return "M114 6L119 10L114 14Z";
	}

	private static double x(double value, double from, double to) {
		var share = (value - from) / (to - from);
		return MARGIN + (WIDTH - 2 * MARGIN) * Math.max(0, Math.min(1, share));
	}

}
