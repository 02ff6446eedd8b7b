package org.seriatim.treatment.domain;

import java.time.LocalDate;
import java.util.UUID;

/**
 * One lot of a product.
 *
 * @param inUse whether it is offered for a preparation
 */
public record CatalogueLot(UUID id, UUID product, String lot, LocalDate expiresOn, boolean inUse, Long version) {

	/**
	 * Whether its expiry has passed on this day; the day of expiry itself is not past.
	 */
	public boolean hasExpiredOn(LocalDate day) {
		return this.expiresOn.isBefore(day);
	}

}
