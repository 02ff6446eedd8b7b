package org.seriatim.photograph.web;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Objects;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.photograph.LightSet;
import org.seriatim.photograph.View;
import org.seriatim.photograph.domain.Photograph;
import org.seriatim.photograph.domain.PhotographDetails;

/**
 * How photographs were taken: of one that is corrected, or of all that are sent at once.
 *
 * @param mirrored a box that is not ticked is not sent
 * @param reason why it is corrected
 * @param version the version that the form shows
 */
record PhotographForm(@Nullable LocalDate takenOn, @Nullable LocalTime takenAt,
		@NotNull(message = "{photograph.view.missing}") @Nullable View view,
		@Min(value = -90, message = "{photograph.yaw.range}") @Max(value = 90,
				message = "{photograph.yaw.range}") @Nullable Integer yawDegrees,
		@Nullable Region region, @Nullable ScarId scar,
		@NotNull(message = "{photograph.light.missing}") @Nullable LightSet lightSet,
		@Size(max = 200) @Nullable String camera,
		@Min(value = 1, message = "{photograph.distance.range}") @Max(value = 500,
				message = "{photograph.distance.range}") @Nullable Integer distanceCm,
		@Nullable Boolean mirrored, @Nullable Boolean qualityOk, @Size(max = 500) @Nullable String qualityNote,
		@Size(max = 500) @Nullable String reason, @Nullable Long version) {

	/**
	 * As the last photograph was taken, so that what stays the same is not typed again.
	 */
	static PhotographForm like(@Nullable Photograph last, @Nullable View view, @Nullable ScarId scar,
			@Nullable Region region) {
		var known = (last != null) ? last.details() : null;
		return new PhotographForm(null, null, view, null, region, scar, (known != null) ? known.lightSet() : null,
				(known != null) ? known.camera() : null, (known != null) ? known.distanceCm() : null,
				known != null && known.mirrored(), null, null, null, null);
	}

	static PhotographForm from(Photograph photograph) {
		var known = photograph.details();
		return new PhotographForm(known.takenOn(), known.takenAt(), known.view(), known.yawDegrees(), known.region(),
				known.scar(), known.lightSet(), known.camera(), known.distanceCm(), known.mirrored(), known.qualityOk(),
				known.qualityNote(), null, photograph.version());
	}

	PhotographDetails toDetails() {
		return new PhotographDetails(this.takenOn, this.takenAt, Objects.requireNonNull(this.view), this.yawDegrees,
				this.region, this.scar, Objects.requireNonNull(this.lightSet), this.camera, this.distanceCm,
				Boolean.TRUE.equals(this.mirrored), this.qualityOk, this.qualityNote);
	}

}
