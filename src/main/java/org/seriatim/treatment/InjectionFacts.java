package org.seriatim.treatment;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;

/**
 * What was placed in one target, as far as later decisions look back at it.
 *
 * @param region where
 * @param scar the tracked scar, if it was placed into one
 * @param layer where it was placed, if recorded
 * @param points number of points, at least 1
 * @param volumeMl millilitres over all points
 * @param painNrs pain while injecting, 0 to 10
 */
public record InjectionFacts(Region region, @Nullable ScarId scar, @Nullable Layer layer, @Nullable Integer points,
		@Nullable Double volumeMl, @Nullable Integer painNrs) {
}
