package org.seriatim.photograph.domain;

import java.time.LocalDate;
import java.time.LocalTime;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.photograph.LightSet;
import org.seriatim.photograph.View;

/**
 * How a photograph was taken.
 *
 * @param takenOn {@code null} in a new one: as the picture itself says, else today
 * @param yawDegrees of a close view: how far the head was turned, −90 (right side towards
 * the camera) to 90 (left side)
 * @param region what a close view shows; that of the scar where only the scar is named
 * @param camera the profile of camera and lens, in the clinic's own words; {@code null}
 * in a new one: as the picture itself says, if it does
 * @param distanceCm from the lens to the skin, 1 to 500
 * @param mirrored whether left and right are exchanged
 * @param qualityOk {@code null} while nobody has judged it
 * @param qualityNote what is wrong with it
 */
public record PhotographDetails(@Nullable LocalDate takenOn, @Nullable LocalTime takenAt, View view,
		@Nullable Integer yawDegrees, @Nullable Region region, @Nullable ScarId scar, LightSet lightSet,
		@Nullable String camera, @Nullable Integer distanceCm, boolean mirrored, @Nullable Boolean qualityOk,
		@Nullable String qualityNote) {

	PhotographDetails with(LocalDate otherDay, @Nullable LocalTime otherTime, @Nullable Region otherRegion,
			@Nullable String otherCamera) {
		return new PhotographDetails(otherDay, otherTime, this.view, this.yawDegrees, otherRegion, this.scar,
				this.lightSet, otherCamera, this.distanceCm, this.mirrored, this.qualityOk, this.qualityNote);
	}

}
