package org.seriatim.statistics;

/**
 * What is known about one duration, or about several equal ones: it ended in <em>(left,
 * right]</em>.
 * <ul>
 * <li>{@code left < right < infinity}: still there at {@code left}, gone at
 * {@code right}.</li>
 * <li>{@code right} infinite: still there when last seen (right censored).</li>
 * <li>{@code left == right}: ended exactly then.</li>
 * <li>{@code left} 0 and {@code right} infinite: says nothing (but that it did not end
 * exactly at 0); allowed.</li>
 * </ul>
 *
 * @param left last time at which it was present, finite and at least 0, in the unit of
 * the record (days)
 * @param right first time at which it was absent, at least {@code left};
 * {@link Double#POSITIVE_INFINITY} when never seen absent
 * @param count number of identical observations, at least 1
 */
public record DurationInterval(double left, double right, int count) {

	public DurationInterval {
		if (!(left >= 0) || Double.isInfinite(left)) {
			throw new IllegalArgumentException("left must be finite and at least 0, but is " + left);
		}
		if (!(right >= left)) {
			throw new IllegalArgumentException("right must be at least left (" + left + "), but is " + right);
		}
		if (count < 1) {
			throw new IllegalArgumentException("count must be at least 1, but is " + count);
		}
		// a negative zero equals zero but sorts before it
		left = left + 0.0;
		right = right + 0.0;
	}

	public DurationInterval(double left, double right) {
		this(left, right, 1);
	}

	public static DurationInterval between(double left, double right) {
		return new DurationInterval(left, right);
	}

	public static DurationInterval exactly(double time) {
		return new DurationInterval(time, time);
	}

	public static DurationInterval longerThan(double left) {
		return new DurationInterval(left, Double.POSITIVE_INFINITY);
	}

	public boolean isExact() {
		return this.left == this.right;
	}

	public boolean isRightCensored() {
		return Double.isInfinite(this.right);
	}

}
