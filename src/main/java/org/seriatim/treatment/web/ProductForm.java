package org.seriatim.treatment.web;

import java.math.BigDecimal;
import java.util.Objects;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;
import org.seriatim.treatment.domain.CatalogueProduct;

/** A product of the catalogue as it is typed. */
record ProductForm(@Nullable Long version, @NotNull @Size(max = 120) @Nullable String substance,
		@Decimal(min = "0.1", max = "10000", fraction = 2, unit = "mg") @Nullable String vialMg,
		@Decimal(min = "0", max = "10000", fraction = 2, unit = "mg") @Nullable String hyaluronicMg,
		@Nullable Boolean inUse) {

	static ProductForm empty() {
		return new ProductForm(null, null, null, null, true);
	}

	static ProductForm from(CatalogueProduct product) {
		return new ProductForm(product.version(), product.substance(), DecimalText.of(product.vialMg()),
				DecimalText.of(product.hyaluronicMg()), product.inUse());
	}

	String requiredSubstance() {
		return Objects.requireNonNull(this.substance).strip();
	}

	@Nullable BigDecimal vial() {
		return DecimalText.value(this.vialMg);
	}

	@Nullable BigDecimal hyaluronic() {
		return DecimalText.value(this.hyaluronicMg);
	}

}
