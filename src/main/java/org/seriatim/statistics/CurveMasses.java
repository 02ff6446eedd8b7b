package org.seriatim.statistics;

import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;

/**
 * A distribution of durations as a list of masses on intervals: what is left of an
 * {@link IntervalCensoredCurve} when only its masses are kept, and all that is needed to
 * answer from it again later.
 * <p>
 * Without any mass (no observations) everything is possible: the share still present lies
 * between 0 and 1, a quantile between 0 and infinity.
 *
 * @param lumps number of observations that the curve rests on
 * @param masses disjoint intervals with their masses, which sum to 1 (within 1e-6, as
 * stored figures may be rounded); kept in the order of time
 */
public record CurveMasses(int lumps, List<Mass> masses) {

	/**
	 * Two probabilities closer than this are equal: masses are certified to about 1e-9.
	 */
	private static final double SAME_PROBABILITY = 1e-9;

	/**
	 * Slack around a quantile level, so that a curve that meets the level exactly reaches
	 * into the next interval whatever the rounding.
	 */
	private static final double QUANTILE_SLACK = 1e-6;

	public CurveMasses {
		if (lumps < 0) {
			throw new IllegalArgumentException("lumps must be at least 0, but is " + lumps);
		}
		masses = masses.stream().sorted(Comparator.comparingDouble(Mass::left).thenComparing(Mass::right)).toList();
		double sum = masses.stream().mapToDouble(Mass::mass).sum();
		if (!masses.isEmpty() && !(Math.abs(sum - 1) <= 1e-6)) {
			throw new IllegalArgumentException("masses must sum to 1, but sum to " + sum);
		}
		for (int i = 1; i < masses.size(); i++) {
			if (masses.get(i).left() < masses.get(i - 1).right()) {
				throw new IllegalArgumentException("masses must not overlap, but " + masses.get(i) + " does");
			}
		}
	}

	/**
	 * Bounds of \( S(t) = P(T > t) \), the share still present at time t. The upper bound
	 * counts as gone only mass that must have gone (right end at most t), the lower one
	 * also mass that may have gone (t strictly inside its interval). Between intervals
	 * the two agree.
	 * @param time at least 0
	 */
	public Bounds stillPresent(double time) {
		requireTime("time", time);
		if (this.masses.isEmpty()) {
			return new Bounds(0, 1);
		}
		double present = 0;
		double uncertain = 0;
		for (Mass mass : this.masses) {
			if (mass.right() > time) {
				if (mass.left() < time) {
					uncertain += mass.mass();
				}
				else {
					present += mass.mass();
				}
			}
		}
		double low = Math.min(1, present);
		return new Bounds(low, Math.min(1, low + uncertain));
	}

	/**
	 * The interval in which the quantile of a level lies: the time by which that share
	 * has gone. Normally the one interval in which the distribution function crosses the
	 * level; where it meets the level exactly the answer reaches into the next interval.
	 * @param level share that has gone, strictly between 0 and 1; 0.5 for the median
	 * @return left and right end; the right one is infinite when the level lies in the
	 * mass never seen to end
	 */
	public Bounds quantile(double level) {
		if (!(level > 0 && level < 1)) {
			throw new IllegalArgumentException("level must be strictly between 0 and 1, but is " + level);
		}
		double left = -1;
		double right = 0;
		double gone = 0;
		for (Mass mass : this.masses) {
			if (mass.mass() > 0) {
				gone += mass.mass();
				right = mass.right();
				if (left < 0 && gone >= level - QUANTILE_SLACK) {
					left = mass.left();
				}
				if (gone > level + QUANTILE_SLACK) {
					return new Bounds(left, right);
				}
			}
		}
		return (left < 0) ? new Bounds(0, Double.POSITIVE_INFINITY) : new Bounds(left, right);
	}

	/**
	 * The interval in which the median lies.
	 */
	public Bounds median() {
		return quantile(0.5);
	}

	/**
	 * \( P(T \le by \mid T > presentAt) \) with the mass of each interval put at its
	 * right end, the latest time that agrees with the data. Mass whose right end is at
	 * most {@code presentAt} counts as gone then.
	 * @return empty when the curve has no mass beyond {@code presentAt}; 0 when
	 * {@code by} is not after {@code presentAt}
	 */
	public OptionalDouble probabilityGoneBy(double by, double presentAt) {
		requireTime("by", by);
		requireTime("presentAt", presentAt);
		double beyond = 0;
		double gone = 0;
		for (Mass mass : this.masses) {
			if (mass.right() > presentAt) {
				beyond += mass.mass();
				if (mass.right() <= by) {
					gone += mass.mass();
				}
			}
		}
		return (beyond > SAME_PROBABILITY) ? OptionalDouble.of(Math.min(1, gone / beyond)) : OptionalDouble.empty();
	}

	/**
	 * The first whole day by which something present at {@code presentAt} has gone with
	 * at least the stated probability, in the sense of
	 * {@link #probabilityGoneBy(double, double)}.
	 * @param probability above 0, at most 1
	 * @param presentAt time at which it was present, at least 0
	 * @param limitDays last day to consider
	 */
	public DayGone firstDayGoneWith(double probability, double presentAt, int limitDays) {
		if (!(probability > 0 && probability <= 1)) {
			throw new IllegalArgumentException("probability must be above 0 and at most 1, but is " + probability);
		}
		requireTime("presentAt", presentAt);
		double beyond = this.masses.stream().filter((mass) -> mass.right() > presentAt).mapToDouble(Mass::mass).sum();
		if (!(beyond > SAME_PROBABILITY)) {
			return new DayGone.NoMassBeyond();
		}
		double gone = 0;
		for (Mass mass : this.masses) {
			if (mass.right() > presentAt && Math.ceil(mass.right()) <= limitDays) {
				gone += mass.mass();
				if (mass.mass() > 0 && gone / beyond >= probability - SAME_PROBABILITY) {
					return new DayGone.Reached((int) Math.ceil(mass.right()));
				}
			}
		}
		return new DayGone.NeverReaches();
	}

	private static void requireTime(String name, double time) {
		if (!(time >= 0)) {
			throw new IllegalArgumentException(name + " must be at least 0, but is " + time);
		}
	}

}
