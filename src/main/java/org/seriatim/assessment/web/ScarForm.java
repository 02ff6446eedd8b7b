package org.seriatim.assessment.web;

import java.time.LocalDate;
import java.util.Objects;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.FaceMap;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarType;
import org.seriatim.assessment.domain.MapPosition;
import org.seriatim.assessment.domain.Scar;
import org.seriatim.assessment.domain.ScarDetails;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;

/**
 * A tracked scar, new or to be corrected.
 *
 * @param label nothing for the next free one of the region
 * @param reason why it is corrected
 * @param version the version that the form shows
 */
record ScarForm(@NotNull(message = "{assessment.scar.region.missing}") @Nullable Region region,
		@NotNull(message = "{assessment.scar.type.missing}") @Nullable ScarType type,
		@Size(max = 40) @Nullable String label, @Decimal(min = "0", max = "1", fraction = 6) @Nullable String mapX,
		@Decimal(min = "0", max = "1", fraction = 6) @Nullable String mapY,
		@NotNull(message = "{assessment.scar.first-recorded.missing}") @Nullable LocalDate firstRecordedOn,
		@Size(max = 500) @Nullable String reason, @Nullable Long version) {

	static ScarForm empty(LocalDate today) {
		return new ScarForm(null, null, null, null, null, today, null, null);
	}

	static ScarForm from(Scar scar) {
		var position = scar.position();
		return new ScarForm(scar.region(), scar.type(), scar.label(),
				(position != null) ? DecimalText.of(position.x()) : null,
				(position != null) ? DecimalText.of(position.y()) : null, scar.firstRecordedOn(), null, scar.version());
	}

	ScarDetails toDetails() {
		return new ScarDetails(this.label, Objects.requireNonNull(this.region), Objects.requireNonNull(this.type),
				position(), Objects.requireNonNull(this.firstRecordedOn));
	}

	boolean isOutsideItsRegion() {
		var position = position();
		return position != null && this.region != null
				&& !FaceMap.contains(this.region, position.x().doubleValue(), position.y().doubleValue());
	}

	private @Nullable MapPosition position() {
		var x = DecimalText.value(this.mapX);
		var y = DecimalText.value(this.mapY);
		return (x != null && y != null) ? new MapPosition(x, y) : null;
	}

}
