package org.seriatim.followup;

import java.util.Optional;

import org.seriatim.assessment.Repeatability;

/**
 * The repeatability that advice rests on now, so that a page judges a change by the same
 * measure.
 */
public interface MeasurementError {

	/**
	 * From the newest snapshot, under the demands of the current protocol; empty before
	 * the first snapshot.
	 */
	Optional<Repeatability> current();

}
