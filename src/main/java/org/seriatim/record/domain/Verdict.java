package org.seriatim.record.domain;

import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Repeatability;
import org.seriatim.assessment.ScarChange;

/** What a change of one scar amounts to, once measurement error is taken into account. */
public enum Verdict {

	/** Nothing is left of it; beyond measurement error by definition. */
	RESOLVED,
	/** Shallower by at least the smallest detectable change. */
	BETTER,
	/** A change smaller than the smallest detectable one. */
	WITHIN_ERROR,
	/** Deeper by at least the smallest detectable change. */
	WORSE,
	/**
	 * A change that nothing can be said about: of a grade, for which no measurement error
	 * is known, or of a depth while too few repeated ratings are on record.
	 */
	NOT_JUDGED;

	/**
	 * Judges a change.
	 * @param repeatability the clinic's own; none before it was first estimated
	 */
	static Verdict on(ScarChange change, @Nullable Repeatability repeatability) {
		if (!(change instanceof ScarChange.InDepth inDepth)) {
			return NOT_JUDGED;
		}
		if (inDepth.isResolved()) {
			return RESOLVED;
		}
		return smallestDetectableChange(repeatability).map((smallest) -> {
			if (!inDepth.isBeyond(smallest)) {
				return WITHIN_ERROR;
			}
			return (inDepth.logRatio() < 0) ? BETTER : WORSE;
		}).orElse(NOT_JUDGED);
	}

	static Optional<Double> smallestDetectableChange(@Nullable Repeatability repeatability) {
		return (repeatability instanceof Repeatability.Known known) ? Optional.of(known.smallestDetectableChange())
				: Optional.empty();
	}

}
