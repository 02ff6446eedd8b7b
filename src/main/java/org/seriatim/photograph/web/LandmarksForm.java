package org.seriatim.photograph.web;

import java.math.BigDecimal;
import java.util.Objects;

import jakarta.validation.constraints.NotNull;
import org.jspecify.annotations.Nullable;
import org.seriatim.photograph.PhotographId;
import org.seriatim.photograph.domain.Landmarks;
import org.seriatim.photograph.domain.Photograph;

/**
 * Two points in each of two photographs, as shares of width and height.
 */
record LandmarksForm(@NotNull PhotographId earlier, @NotNull PhotographId later, @Share @Nullable BigDecimal firstX,
		@Share @Nullable BigDecimal firstY, @Share @Nullable BigDecimal secondX, @Share @Nullable BigDecimal secondY,
		@Share @Nullable BigDecimal laterFirstX, @Share @Nullable BigDecimal laterFirstY,
		@Share @Nullable BigDecimal laterSecondX, @Share @Nullable BigDecimal laterSecondY) {

	static LandmarksForm of(Photograph earlier, Photograph later) {
		var one = earlier.landmarks().orElse(null);
		var other = later.landmarks().orElse(null);
		return new LandmarksForm(earlier.id(), later.id(), (one != null) ? one.firstX() : null,
				(one != null) ? one.firstY() : null, (one != null) ? one.secondX() : null,
				(one != null) ? one.secondY() : null, (other != null) ? other.firstX() : null,
				(other != null) ? other.firstY() : null, (other != null) ? other.secondX() : null,
				(other != null) ? other.secondY() : null);
	}

	Landmarks ofEarlier() {
		return new Landmarks(Objects.requireNonNull(this.firstX), Objects.requireNonNull(this.firstY),
				Objects.requireNonNull(this.secondX), Objects.requireNonNull(this.secondY));
	}

	Landmarks ofLater() {
		return new Landmarks(Objects.requireNonNull(this.laterFirstX), Objects.requireNonNull(this.laterFirstY),
				Objects.requireNonNull(this.laterSecondX), Objects.requireNonNull(this.laterSecondY));
	}

}
