package org.seriatim.shell;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

import org.jspecify.annotations.Nullable;

/**
 * A line the size of a word: how one value went from stage to stage. Heights count from 0
 * at the bottom to the largest value at the top, so that half the height is half the
 * value.
 *
 * @param path the line, as the path of an SVG of {@value #WIDTH} by {@value #HEIGHT};
 * interrupted where a value is missing
 * @param points where the values are
 */
public record Sparkline(String path, List<Dot> points) {

	/** Width of the drawing. */
	public static final int WIDTH = 96;

	/** Height of the drawing. */
	public static final int HEIGHT = 24;

	private static final double MARGIN = 3;

	/**
	 * A value's place.
	 *
	 * @param x from the left
	 * @param y from the top
	 * @param last whether it is the latest value
	 */
	public record Dot(String x, String y, boolean last) {
	}

	/** The line of values from 0 to the largest of them. */
	public static Sparkline of(List<@Nullable Double> values) {
		return of(values, values.stream().filter(Objects::nonNull).mapToDouble(Double::doubleValue).max().orElse(0));
	}

	/**
	 * The line of values on a scale from 0 to a given most, so that several lines can be
	 * compared.
	 * @param values the values by rising stage, {@code null} where there is none; not
	 * negative
	 * @param most the value at the top
	 */
	public static Sparkline of(List<@Nullable Double> values, double most) {
		var path = new StringBuilder();
		var dots = new ArrayList<Dot>();
		var step = (values.size() > 1) ? (WIDTH - 2 * MARGIN) / (values.size() - 1) : 0;
		var last = values.size() - 1;
		while (last >= 0 && values.get(last) == null) {
			last--;
		}
		var joined = false;
		for (var i = 0; i < values.size(); i++) {
			var value = values.get(i);
			if (value == null) {
				joined = false;
				continue;
			}
			if (!(value >= 0)) {
				throw new IllegalArgumentException("values must not be negative, one was " + value);
			}
			var x = number(MARGIN + i * step);
			var y = number(HEIGHT - MARGIN - ((most > 0) ? (HEIGHT - 2 * MARGIN) * Math.min(1, value / most) : 0));
			path.append(joined ? "L" : "M").append(x).append(' ').append(y);
			dots.add(new Dot(x, y, i == last));
			joined = true;
		}
		return new Sparkline(path.toString(), List.copyOf(dots));
	}

	static String number(double value) {
		return String.format(Locale.ROOT, "%.1f", value);
	}

}
