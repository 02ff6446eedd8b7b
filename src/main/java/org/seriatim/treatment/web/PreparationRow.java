package org.seriatim.treatment.web;

import java.time.LocalDate;
import java.util.Objects;
import java.util.stream.Stream;

import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.RowKey;
import org.seriatim.treatment.PreparationId;
import org.seriatim.treatment.RecordedPreparation;
import org.seriatim.treatment.domain.Reconstitution;
import org.seriatim.treatment.domain.SessionDetails.Prepared;

/**
 * One preparation of the session's form. A row in which nothing is typed does not count.
 *
 * @param number keeps the row and its earlier versions together; typed by nobody
 */
record PreparationRow(@RowKey @Nullable Integer number, @Size(max = 120) @Nullable String product,
		@Size(max = 60) @Nullable String lot, @Nullable LocalDate expiresOn,
		@Decimal(min = "0.1", max = "10000", fraction = 2, unit = "mg") @Nullable String vialMg,
		@Decimal(min = "0", max = "100", fraction = 3, unit = "mL") @Nullable String diluentMl,
		@Decimal(min = "0", max = "100", fraction = 3, unit = "mL") @Nullable String stockDrawnMl,
		@Decimal(min = "0", max = "100", fraction = 3, unit = "mL") @Nullable String addedDiluentMl,
		@Decimal(min = "0", max = "10", fraction = 2, unit = "%") @Nullable String lidocainePercent,
		@Decimal(min = "0", max = "100", fraction = 3, unit = "mL") @Nullable String lidocaineMl,
		@Decimal(min = "0", max = "100", fraction = 3, unit = "mL") @Nullable String discardedMl) {

	static PreparationRow empty() {
		return new PreparationRow(null, null, null, null, null, null, null, null, null, null, null);
	}

	static PreparationRow from(RecordedPreparation preparation) {
		return new PreparationRow(preparation.number(), preparation.product(), preparation.lot(),
				preparation.expiresOn(), DecimalText.of(preparation.vialMg()), DecimalText.of(preparation.diluentMl()),
				DecimalText.of(preparation.stockDrawnMl()), DecimalText.of(preparation.addedDiluentMl()),
				DecimalText.of(preparation.lidocainePercent()), DecimalText.of(preparation.lidocaineMl()),
				DecimalText.of(preparation.discardedMl()));
	}

	PreparationRow numbered(int number) {
		return new PreparationRow(number, this.product, this.lot, this.expiresOn, this.vialMg, this.diluentMl,
				this.stockDrawnMl, this.addedDiluentMl, this.lidocainePercent, this.lidocaineMl, this.discardedMl);
	}

	boolean isBlank() {
		return Stream
			.of(this.product, this.lot, this.expiresOn, this.vialMg, this.diluentMl, this.stockDrawnMl,
					this.addedDiluentMl, this.lidocainePercent, this.lidocaineMl, this.discardedMl)
			.allMatch(Objects::isNull);
	}

	Prepared toDetails() {
		return new Prepared(Objects.requireNonNull(this.number),
				new Reconstitution(Objects.requireNonNull(this.product), this.lot, this.expiresOn,
						DecimalText.value(this.vialMg), DecimalText.value(this.diluentMl),
						DecimalText.value(this.stockDrawnMl), DecimalText.value(this.addedDiluentMl),
						DecimalText.value(this.lidocainePercent), DecimalText.value(this.lidocaineMl),
						DecimalText.value(this.discardedMl)));
	}

	/** As far as it can be read while somebody is still typing. */
	RecordedPreparation soFar(PreparationId id) {
		return new RecordedPreparation(id, Objects.requireNonNull(this.number),
				Objects.requireNonNullElse(this.product, ""), this.lot, this.expiresOn, Typed.decimal(this.vialMg),
				Typed.decimal(this.diluentMl), Typed.decimal(this.stockDrawnMl), Typed.decimal(this.addedDiluentMl),
				Typed.decimal(this.lidocainePercent), Typed.decimal(this.lidocaineMl), Typed.decimal(this.discardedMl));
	}

}
