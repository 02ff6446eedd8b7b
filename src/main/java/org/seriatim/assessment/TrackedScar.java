package org.seriatim.assessment;

import java.math.BigDecimal;
import java.time.LocalDate;

import org.jspecify.annotations.Nullable;

/**
 * One lesion followed through the series under one label.
 *
 * @param x position on the face map from 0 to 1, as one faces the patient: the patient's
 * right has x below 0.5; {@code null} together with {@code y} where no mark was set
 * @param y position on the face map from 0, the top, to 1
 */
public record TrackedScar(ScarId id, String label, Region region, ScarType type, @Nullable BigDecimal x,
		@Nullable BigDecimal y, LocalDate firstRecordedOn) {

	/** Whether the scar has its mark on the face map. */
	public boolean isOnMap() {
		return this.x != null;
	}

}
