package org.seriatim.photograph.domain;

import java.util.EnumSet;
import java.util.Objects;
import java.util.Set;

import org.jspecify.annotations.Nullable;

/**
 * Whether what differs between two photographs is the skin. A pair can be compared only
 * if view, set of light and camera are the same (common practice, no source); what else
 * differs is said beside it.
 *
 * @param differences all that were found
 */
public record Comparability(Set<Difference> differences) {

	/** Turns that differ by more hide one side of a rim, in degrees. */
	private static final int MOST_TURN = 10;

	/** Distances and sizes that differ by more than this share change the perspective. */
	private static final double MOST_STRETCH = 1.1;

	/** What differs. */
	public enum Difference {

		/** The views, or what a close view shows. */
		VIEW(true),
		/** The sets of light. */
		LIGHT_SET(true),
		/** The cameras. */
		CAMERA(true),
		/** The camera of one of them is not known. */
		CAMERA_UNKNOWN(true),
		/** One is mirrored. */
		MIRRORED(true),
		/** The turn of the head in close views. */
		TURN(false),
		/** The distances to the skin. */
		DISTANCE(false),
		/** By the landmarks, one shows the skin at another size. */
		SIZE(false),
		/** One of them was judged not in order. */
		QUALITY(false);

		private final boolean prevents;

		Difference(boolean prevents) {
			this.prevents = prevents;
		}

		/** Whether it forbids any conclusion. */
		public boolean prevents() {
			return this.prevents;
		}

	}

	public Comparability {
		differences = Set.copyOf(differences);
	}

	/** Whether conclusions may be drawn at all. */
	public boolean isGiven() {
		return this.differences.stream().noneMatch(Difference::prevents);
	}

	public static Comparability of(Photograph one, Photograph other) {
		var found = EnumSet.noneOf(Difference.class);
		var a = one.details();
		var b = other.details();
		add(found, Difference.VIEW,
				a.view() != b.view() || a.region() != b.region() || !Objects.equals(a.scar(), b.scar()));
		add(found, Difference.LIGHT_SET, a.lightSet() != b.lightSet());
		add(found, Difference.CAMERA_UNKNOWN, a.camera() == null || b.camera() == null);
		add(found, Difference.CAMERA, a.camera() != null && b.camera() != null && !a.camera().equals(b.camera()));
		add(found, Difference.MIRRORED, a.mirrored() != b.mirrored());
		add(found, Difference.TURN, a.yawDegrees() != null && b.yawDegrees() != null
				&& Math.abs(a.yawDegrees() - b.yawDegrees()) > MOST_TURN);
		add(found, Difference.DISTANCE, isStretched(number(a.distanceCm()), number(b.distanceCm())));
		add(found, Difference.SIZE, isStretched(span(one), span(other)));
		add(found, Difference.QUALITY, Boolean.FALSE.equals(a.qualityOk()) || Boolean.FALSE.equals(b.qualityOk()));
		return new Comparability(found);
	}

	private static void add(Set<Difference> found, Difference difference, boolean differs) {
		if (differs) {
			found.add(difference);
		}
	}

	private static @Nullable Double number(@Nullable Integer value) {
		return (value != null) ? value.doubleValue() : null;
	}

	/** Between the landmarks, as a share of the longer side. */
	private static @Nullable Double span(Photograph photograph) {
		return photograph.landmarks().map((points) -> {
			double across = (points.secondX().doubleValue() - points.firstX().doubleValue()) * photograph.width();
			double down = (points.secondY().doubleValue() - points.firstY().doubleValue()) * photograph.height();
			return Math.hypot(across, down) / Math.max(photograph.width(), photograph.height());
		}).orElse(null);
	}

	private static boolean isStretched(@Nullable Double one, @Nullable Double other) {
		return one != null && other != null && Math.max(one, other) > MOST_STRETCH * Math.min(one, other);
	}

}
