package org.seriatim.treatment;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Optional;

import org.jspecify.annotations.Nullable;

/**
 * One reconstituted vial as it was recorded; what nobody entered is {@code null}, which
 * is not zero.
 *
 * @param number through the session's preparations
 * @param vialMg dry substance in the vial
 * @param diluentMl put into the vial
 * @param stockDrawnMl out of the vial, at most {@code diluentMl}; below zero where it was
 * worked out as a remainder, which is a data-quality item
 * @param handling what the exchange bundle does not carry
 */
public record RecordedPreparation(PreparationId id, int number, String product, @Nullable String lot,
		@Nullable LocalDate expiresOn, @Nullable BigDecimal vialMg, @Nullable BigDecimal diluentMl,
		@Nullable BigDecimal stockDrawnMl, @Nullable BigDecimal addedDiluentMl, @Nullable BigDecimal lidocainePercent,
		@Nullable BigDecimal lidocaineMl, @Nullable BigDecimal discardedMl, Handling handling) {

	/** A preparation of whose handling nothing is known. */
	public RecordedPreparation(PreparationId id, int number, String product, @Nullable String lot,
			@Nullable LocalDate expiresOn, @Nullable BigDecimal vialMg, @Nullable BigDecimal diluentMl,
			@Nullable BigDecimal stockDrawnMl, @Nullable BigDecimal addedDiluentMl,
			@Nullable BigDecimal lidocainePercent, @Nullable BigDecimal lidocaineMl, @Nullable BigDecimal discardedMl) {
		this(id, number, product, lot, expiresOn, vialMg, diluentMl, stockDrawnMl, addedDiluentMl, lidocainePercent,
				lidocaineMl, discardedMl, Handling.UNKNOWN);
	}

	/**
	 * Whether its expiry had passed on this day; the day of expiry itself is not past.
	 */
	public boolean hadExpiredOn(LocalDate day) {
		return this.expiresOn != null && this.expiresOn.isBefore(day);
	}

	/**
	 * Lidocaine in each millilitre, in milligrams; zero where none was added, empty where
	 * the record does not say.
	 */
	public Optional<BigDecimal> lidocaineMgPerMl() {
		if (isZero(this.lidocaineMl) || isZero(this.lidocainePercent)) {
			return Optional.of(BigDecimal.ZERO);
		}
		if (this.lidocainePercent == null || this.lidocaineMl == null || totalMl().isEmpty()) {
			return Optional.empty();
		}
		var substanceDoesNotMatter = BigDecimal.ZERO;
		return Optional.of(new Mixture(substanceDoesNotMatter,
				Mixture.lidocaineMg(this.lidocainePercent, this.lidocaineMl), totalMl().get())
			.lidocaineMgPerMl());
	}

	/**
	 * What a millilitre holds; empty where the record does not say, or nothing was mixed.
	 */
	public Optional<Mixture> mixture() {
		return mixtureOf(this.vialMg);
	}

	/**
	 * The mixture as far as its hyaluronic acid goes; empty where the record does not say
	 * of any.
	 */
	public Optional<Mixture> hyaluronicMixture() {
		return mixtureOf(this.handling.hyaluronicMg());
	}

	/** What stayed in the vial, in millilitres; empty where the record does not say. */
	public Optional<BigDecimal> leftInVialMl() {
		return (this.diluentMl != null && this.stockDrawnMl != null && this.stockDrawnMl.signum() >= 0)
				? Optional.of(this.diluentMl.subtract(this.stockDrawnMl)) : Optional.empty();
	}

	private Optional<Mixture> mixtureOf(@Nullable BigDecimal inVialMg) {
		if (inVialMg == null || this.diluentMl == null || this.diluentMl.signum() == 0 || this.stockDrawnMl == null
				|| this.stockDrawnMl.compareTo(this.diluentMl) > 0 || this.addedDiluentMl == null
				|| this.lidocaineMl == null || totalMl().isEmpty()
				|| (this.lidocainePercent == null && this.lidocaineMl.signum() > 0)) {
			return Optional.empty();
		}
		return Optional.of(Mixture.of(inVialMg, this.diluentMl, this.stockDrawnMl, this.addedDiluentMl,
				(this.lidocainePercent != null) ? this.lidocainePercent : BigDecimal.ZERO, this.lidocaineMl));
	}

	/**
	 * Volume of the mixture; empty where the record does not say, or where no mixture can
	 * have it.
	 */
	public Optional<BigDecimal> totalMl() {
		if (this.stockDrawnMl == null || this.stockDrawnMl.signum() < 0 || this.addedDiluentMl == null
				|| this.lidocaineMl == null) {
			return Optional.empty();
		}
		return Optional.of(this.stockDrawnMl.add(this.addedDiluentMl).add(this.lidocaineMl))
			.filter((total) -> total.signum() > 0);
	}

	private static boolean isZero(@Nullable BigDecimal value) {
		return value != null && value.signum() == 0;
	}

}
