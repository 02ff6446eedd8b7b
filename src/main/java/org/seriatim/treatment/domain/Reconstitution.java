package org.seriatim.treatment.domain;

import java.math.BigDecimal;
import java.time.LocalDate;

import jakarta.persistence.Embeddable;
import org.jspecify.annotations.Nullable;

/**
 * How one vial was prepared; {@code null} is unknown.
 *
 * @param vialMg dry substance in the vial
 * @param diluentMl put into the vial
 * @param stockDrawnMl out of the vial, at most {@code diluentMl}
 */
@Embeddable
public record Reconstitution(String product, @Nullable String lot, @Nullable LocalDate expiresOn,
		@Nullable BigDecimal vialMg, @Nullable BigDecimal diluentMl, @Nullable BigDecimal stockDrawnMl,
		@Nullable BigDecimal addedDiluentMl, @Nullable BigDecimal lidocainePercent, @Nullable BigDecimal lidocaineMl,
		@Nullable BigDecimal discardedMl) {

	/** Whether more was drawn than was in the vial. */
	boolean drewMoreThanThereWas() {
		return this.stockDrawnMl != null && this.diluentMl != null && this.stockDrawnMl.compareTo(this.diluentMl) > 0;
	}

}
