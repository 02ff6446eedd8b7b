package org.seriatim.treatment.domain;

import java.math.BigDecimal;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

/**
 * What a clinic injects.
 *
 * @param substance in words of the trade, no brand
 * @param vialMg dry substance in a vial
 * @param hyaluronicMg hyaluronic acid in a vial beside it
 * @param inUse whether it is offered for a preparation
 * @param lots by expiry, the next first
 */
public record CatalogueProduct(UUID id, String substance, @Nullable BigDecimal vialMg,
		@Nullable BigDecimal hyaluronicMg, boolean inUse, Long version, List<CatalogueLot> lots) {

	public CatalogueProduct {
		lots = List.copyOf(lots);
	}

}
