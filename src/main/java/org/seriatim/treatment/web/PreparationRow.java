package org.seriatim.treatment.web;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.util.Objects;
import java.util.stream.Stream;

import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.RowKey;
import org.seriatim.treatment.DiscardReason;
import org.seriatim.treatment.Handling;
import org.seriatim.treatment.PreparationId;
import org.seriatim.treatment.RecordedPreparation;
import org.seriatim.treatment.VialFate;
import org.seriatim.treatment.domain.CatalogueLot;
import org.seriatim.treatment.domain.CatalogueProduct;
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
		@Decimal(min = "0", max = "100", fraction = 3, unit = "mL") @Nullable String discardedMl,
		@Decimal(min = "0", max = "10000", fraction = 2, unit = "mg") @Nullable String hyaluronicMg,
		@Nullable LocalDateTime reconstitutedAt, @Nullable LocalDateTime firstUsedAt,
		@Decimal(min = "1", max = "50") @Nullable String syringes, @Nullable VialFate vialFate,
		@Nullable DiscardReason discardReason, @Size(max = 400) @Nullable String expiredReason,
		@Size(max = 400) @Nullable String balanceReason) {

	static PreparationRow empty() {
		return new PreparationRow(null, null, null, null, null, null, null, null, null, null, null, null, null, null,
				null, null, null, null, null);
	}

	static PreparationRow from(RecordedPreparation preparation, ZoneId zone) {
		var handling = preparation.handling();
		return new PreparationRow(preparation.number(), preparation.product(), preparation.lot(),
				preparation.expiresOn(), DecimalText.of(preparation.vialMg()), DecimalText.of(preparation.diluentMl()),
				DecimalText.of(preparation.stockDrawnMl()), DecimalText.of(preparation.addedDiluentMl()),
				DecimalText.of(preparation.lidocainePercent()), DecimalText.of(preparation.lidocaineMl()),
				DecimalText.of(preparation.discardedMl()), DecimalText.of(handling.hyaluronicMg()),
				local(handling.reconstitutedAt(), zone), local(handling.firstUsedAt(), zone),
				DecimalText.of(handling.syringes()), handling.vialFate(), handling.discardReason(),
				handling.expiredReason(), handling.balanceReason());
	}

	private static @Nullable LocalDateTime local(@Nullable Instant time, ZoneId zone) {
		return (time != null) ? LocalDateTime.ofInstant(time, zone) : null;
	}

	private static @Nullable Instant instant(@Nullable LocalDateTime time, ZoneId zone) {
		return (time != null) ? time.atZone(zone).toInstant() : null;
	}

	PreparationRow numbered(int number) {
		return new PreparationRow(number, this.product, this.lot, this.expiresOn, this.vialMg, this.diluentMl,
				this.stockDrawnMl, this.addedDiluentMl, this.lidocainePercent, this.lidocaineMl, this.discardedMl,
				this.hyaluronicMg, this.reconstitutedAt, this.firstUsedAt, this.syringes, this.vialFate,
				this.discardReason, this.expiredReason, this.balanceReason);
	}

	/** The same with what the catalogue says of a lot. */
	PreparationRow from(CatalogueProduct known, CatalogueLot chosen) {
		return new PreparationRow(this.number, known.substance(), chosen.lot(), chosen.expiresOn(),
				DecimalText.of(known.vialMg()), this.diluentMl, this.stockDrawnMl, this.addedDiluentMl,
				this.lidocainePercent, this.lidocaineMl, this.discardedMl, DecimalText.of(known.hyaluronicMg()),
				this.reconstitutedAt, this.firstUsedAt, this.syringes, this.vialFate, this.discardReason,
				this.expiredReason, this.balanceReason);
	}

	boolean isBlank() {
		return Stream
			.of(this.product, this.lot, this.expiresOn, this.vialMg, this.diluentMl, this.stockDrawnMl,
					this.addedDiluentMl, this.lidocainePercent, this.lidocaineMl, this.discardedMl, this.hyaluronicMg,
					this.reconstitutedAt, this.firstUsedAt, this.syringes, this.vialFate, this.discardReason,
					this.expiredReason, this.balanceReason)
			.allMatch(Objects::isNull);
	}

	Prepared toDetails(ZoneId zone) {
		return new Prepared(Objects.requireNonNull(this.number),
				new Reconstitution(Objects.requireNonNull(this.product), this.lot, this.expiresOn,
						DecimalText.value(this.vialMg), DecimalText.value(this.diluentMl),
						DecimalText.value(this.stockDrawnMl), DecimalText.value(this.addedDiluentMl),
						DecimalText.value(this.lidocainePercent), DecimalText.value(this.lidocaineMl),
						DecimalText.value(this.discardedMl)),
				new Handling(DecimalText.value(this.hyaluronicMg), instant(this.reconstitutedAt, zone),
						instant(this.firstUsedAt, zone), DecimalText.whole(this.syringes), this.vialFate,
						this.discardReason, this.expiredReason, this.balanceReason));
	}

	/** As far as it can be read while somebody is still typing. */
	RecordedPreparation soFar(PreparationId id, ZoneId zone) {
		return new RecordedPreparation(id, Objects.requireNonNull(this.number),
				Objects.requireNonNullElse(this.product, ""), this.lot, this.expiresOn, Typed.decimal(this.vialMg),
				Typed.decimal(this.diluentMl), Typed.decimal(this.stockDrawnMl), Typed.decimal(this.addedDiluentMl),
				Typed.decimal(this.lidocainePercent), Typed.decimal(this.lidocaineMl), Typed.decimal(this.discardedMl),
				new Handling(Typed.decimal(this.hyaluronicMg), instant(this.reconstitutedAt, zone),
						instant(this.firstUsedAt, zone), Typed.whole(this.syringes), this.vialFate, this.discardReason,
						this.expiredReason, this.balanceReason));
	}

}
