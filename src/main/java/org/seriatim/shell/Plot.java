package org.seriatim.shell;

import java.time.LocalDate;
import java.util.List;
import java.util.Locale;

import com.fasterxml.jackson.annotation.JsonValue;
import org.jspecify.annotations.Nullable;

/**
 * A plot as its page describes it: what is on the axes and what is drawn. The script
 * {@code plots.js} decides how that looks, so that all plots look alike, and every plot
 * stands beside a table of its figures.
 *
 * @param x the horizontal axis
 * @param y the vertical axis
 * @param series what is drawn, at most six, told apart by line and symbol before colour
 * @param marks lines at values of an axis that mean something, for example a threshold
 * @param behind thin lines behind all that, one for each single case that a series
 * summarises
 */
public record Plot(Axis x, Axis y, List<Series> series, List<Mark> marks, List<List<Point>> behind) {

	/** So many can be told apart. */
	public static final int MOST_SERIES = 6;

	public Plot {
		if (series.size() > MOST_SERIES) {
			throw new IllegalArgumentException(
					"series must be at most " + MOST_SERIES + ", were " + series.size() + "; make several plots");
		}
		series = List.copyOf(series);
		marks = List.copyOf(marks);
		behind = List.copyOf(behind);
	}

	public Plot(Axis x, Axis y, List<Series> series, List<Mark> marks) {
		this(x, y, series, marks, List.of());
	}

	public Plot(Axis x, Axis y, List<Series> series) {
		this(x, y, series, List.of(), List.of());
	}

	/**
	 * One axis.
	 *
	 * @param label what it shows, with its unit
	 * @param scale how its values are written
	 * @param min where it starts, {@code null} to follow the values
	 * @param max where it ends, {@code null} to follow the values
	 * @param categories names of the categories; values are then positions, from 0
	 */
	public record Axis(String label, Scale scale, @Nullable Double min, @Nullable Double max, List<String> categories) {

		public Axis {
			categories = List.copyOf(categories);
		}

		/** Numbers from 0 as far as the values go. */
		public static Axis number(String label) {
			return new Axis(label, Scale.NUMBER, 0.0, null, List.of());
		}

		/** Numbers between two ends, either {@code null} to follow the values. */
		public static Axis number(String label, @Nullable Double min, @Nullable Double max) {
			return new Axis(label, Scale.NUMBER, min, max, List.of());
		}

		/** Shares from 0 to 1, written as 0 % to 100 %. */
		public static Axis share(String label) {
			return new Axis(label, Scale.SHARE, 0.0, 1.0, List.of());
		}

		/** Shares from 0 to a most, written in percent. */
		public static Axis share(String label, double max) {
			return new Axis(label, Scale.SHARE, 0.0, max, List.of());
		}

		/** Calendar days; the values of points are made by {@link Point#on}. */
		public static Axis days(String label) {
			return new Axis(label, Scale.DAY, null, null, List.of());
		}

		/** Ratios above 0, equal factors at equal distances. */
		public static Axis ratio(String label) {
			return new Axis(label, Scale.RATIO, null, null, List.of());
		}

		/** Named categories in their order. */
		public static Axis categories(String label, List<String> names) {
			return new Axis(label, Scale.CATEGORY, null, null, names);
		}

	}

	/** How the values of an axis are written. */
	public enum Scale {

		NUMBER, SHARE, DAY, RATIO, CATEGORY;

		@JsonValue
		String word() {
			return name().toLowerCase(Locale.ROOT);
		}

	}

	/**
	 * One series.
	 *
	 * @param name what it is called beside its line and in its tooltip
	 * @param shape how it is drawn
	 * @param points its points, by rising x
	 */
	public record Series(String name, Shape shape, List<Point> points) {

		public Series {
			points = List.copyOf(points);
		}

	}

	/** How a series is drawn; limits become a band of a line, whiskers of a point. */
	public enum Shape {

		/** Straight from point to point. */
		LINE,
		/** Each value holds until the next point. */
		STEP,
		/** Points that nothing joins. */
		POINTS,
		/** The same with their limits along the horizontal axis. */
		LYING;

		@JsonValue
		String word() {
			return name().toLowerCase(Locale.ROOT);
		}

	}

	/**
	 * One point.
	 *
	 * @param x position, or number of the category from 0
	 * @param y value, {@code null} where only its limits are known
	 * @param low lower limit, {@code null} if there is none
	 * @param high upper limit, {@code null} if there is none
	 */
	public record Point(double x, @Nullable Double y, @Nullable Double low, @Nullable Double high) {

		public Point(double x, @Nullable Double y) {
			this(x, y, null, null);
		}

		/** A value of a day. */
		public static Point on(LocalDate day, @Nullable Double y) {
			return new Point(milliseconds(day), y);
		}

		/** A value of a day with its limits. */
		public static Point on(LocalDate day, @Nullable Double y, @Nullable Double low, @Nullable Double high) {
			return new Point(milliseconds(day), y, low, high);
		}

		private static double milliseconds(LocalDate day) {
			return day.toEpochDay() * 86_400_000.0;
		}

	}

	/**
	 * A line across the plot.
	 *
	 * @param axis the axis whose value it marks, {@code x} or {@code y}
	 * @param at the value
	 * @param label what it means
	 */
	public record Mark(String axis, double at, String label) {

		/** A line at a position of the horizontal axis. */
		public static Mark at(double x, String label) {
			return new Mark("x", x, label);
		}

		/** A line at a value of the vertical axis. */
		public static Mark level(double y, String label) {
			return new Mark("y", y, label);
		}

	}

}
