package org.seriatim.treatment.web;

import java.time.LocalDate;
import java.util.Objects;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.treatment.domain.CatalogueLot;

/** A lot of the catalogue as it is typed. */
record LotForm(@Nullable Long version, @NotNull @Size(max = 60) @Nullable String lot,
		@NotNull @Nullable LocalDate expiresOn, @Nullable Boolean inUse) {

	private static final int FIRST_YEAR = 1990;

	private static final int LAST_YEAR = 2199;

	static LotForm empty() {
		return new LotForm(null, null, null, true);
	}

	static LotForm from(CatalogueLot lot) {
		return new LotForm(lot.version(), lot.lot(), lot.expiresOn(), lot.inUse());
	}

	/** Whether a day can be the expiry of a vial; any other is a slip. */
	static boolean canBeExpiry(@Nullable LocalDate day) {
		return day == null || day.getYear() >= FIRST_YEAR && day.getYear() <= LAST_YEAR;
	}

	String requiredLot() {
		return Objects.requireNonNull(this.lot).strip();
	}

	LocalDate requiredExpiry() {
		return Objects.requireNonNull(this.expiresOn);
	}

}
