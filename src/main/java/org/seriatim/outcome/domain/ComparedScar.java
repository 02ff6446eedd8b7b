package org.seriatim.outcome.domain;

import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.ScarChange;
import org.seriatim.assessment.ScarType;

/**
 * One scar at one stage of one series against its baseline.
 *
 * @param stage from 1: after so many sessions of the series
 * @param change in depth or else in its grade; none where the two cannot be compared, and
 * then {@code leftOut} says why
 */
public record ComparedScar(UUID patient, UUID series, UUID scar, ScarType type, int stage, @Nullable ScarChange change,
		@Nullable LeftOut leftOut) {

	/** Why a scar that was assessed at a stage enters no mean. */
	public enum LeftOut {

		/** Nothing was assessed before the first session of the series. */
		NO_BASELINE,
		/** Depths, but by methods that differ or are not on record, and no grades. */
		NOT_COMPARABLE,
		/** It had merged, split or been excluded by the end of the stage. */
		NOT_FOLLOWED

	}

}
