package org.seriatim.assessment;

import java.util.Optional;

/**
 * How a scar changed against its baseline: in depth where that can be compared, else in
 * its severity grade. The two are never mixed in one mean.
 */
public sealed interface ScarChange {

	/**
	 * Change of the depth, measured at both stages by one method.
	 *
	 * @param percent improvement \( 100 (1 - d_k / d_0) \); 100 when nothing is left,
	 * negative when the scar is deeper
	 * @param logRatio \( \ln(d_k / d_0) \); negative infinity when nothing is left
	 */
	record InDepth(double percent, double logRatio) implements ScarChange {

		/** Depth 0: the best result, counted beside means of logarithms, not in them. */
		public boolean isResolved() {
			return this.logRatio == Double.NEGATIVE_INFINITY;
		}

		/**
		 * Whether the change exceeds measurement error.
		 * @param smallestDetectableChange on the scale of logarithms
		 */
		public boolean isBeyond(double smallestDetectableChange) {
			return Math.abs(this.logRatio) >= smallestDetectableChange;
		}

	}

	/**
	 * Change of the severity grade.
	 *
	 * @param grades later minus baseline; negative is better
	 */
	record InGrade(double grades) implements ScarChange {
	}

	/**
	 * The change between two stages, usually the baseline and a later one. Empty when
	 * neither depth nor severity is known at both. A baseline depth of 0 leaves nothing
	 * to compare a depth with.
	 * @param type raised, macular and unclassified scars stay out of depth statistics
	 */
	static Optional<ScarChange> between(ScarType type, ScarState baseline, ScarState later) {
		var before = baseline.depth();
		var after = later.depth();
		if (type.hasDepthStatistics() && before != null && after != null && before.mm() > 0
				&& before.isComparableWith(after)) {
			var ratio = after.mm() / before.mm();
			return Optional.of(new InDepth(100 * (1 - ratio), Math.log(ratio)));
		}
		if (baseline.severity() != null && later.severity() != null) {
			return Optional.of(new InGrade(later.severity().grade() - baseline.severity().grade()));
		}
		return Optional.empty();
	}

}
