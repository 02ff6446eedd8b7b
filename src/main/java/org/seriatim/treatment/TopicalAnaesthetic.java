package org.seriatim.treatment;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Optional;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;

/**
 * A cream of lidocaine 2.5 % and prilocaine 2.5 % on intact skin, as it was applied to an
 * adult; {@code null} is unknown. What is applied is not what is absorbed, so its
 * milligrams are never added to infiltrated ones.
 * <p>
 * The limits are those of the UK product information (revision of 4 June 2024): 60 g, 600
 * cm², 300 minutes. The US label reports blood levels after 60 g on 400 cm² for 3 hours;
 * beyond 400 cm² a caution is shown (a convention).
 */
public record TopicalAnaesthetic(@Nullable BigDecimal grams, @Nullable BigDecimal areaCm2, @Nullable Integer minutes) {

	static final BigDecimal GRAMS_AT_MOST = BigDecimal.valueOf(60);

	static final BigDecimal AREA_AT_MOST_CM2 = BigDecimal.valueOf(600);

	static final BigDecimal MINUTES_AT_MOST = BigDecimal.valueOf(300);

	private static final BigDecimal AREA_TO_NOTE_CM2 = BigDecimal.valueOf(400);

	/** 2.5 % of a gram. */
	private static final BigDecimal MG_PER_GRAM = BigDecimal.valueOf(25);

	private static final BigDecimal TEN_CM2 = BigDecimal.TEN;

	/** One of its three measures. */
	public enum Measure {

		GRAMS, AREA, MINUTES

	}

	/** Whether a cream was on at all, as far as anything is known of it. */
	public boolean wasUsed() {
		return fraction().filter((share) -> share.signum() > 0).isPresent();
	}

	/** Lidocaine in the cream applied, in milligrams; as much prilocaine again. */
	public Optional<BigDecimal> lidocaineMg() {
		return Optional.ofNullable(this.grams).map(MG_PER_GRAM::multiply);
	}

	/**
	 * The mass that an area takes at a rate, in grams: the UK rate is 1.5 g on 10 cm².
	 */
	public static BigDecimal gramsFor(BigDecimal areaCm2, BigDecimal gramsPer10Cm2) {
		return areaCm2.multiply(gramsPer10Cm2).divide(TEN_CM2, MathContext.DECIMAL128);
	}

	/**
	 * The largest of its three shares of their limits, 1 being a limit itself; empty
	 * where nothing is known.
	 */
	public Optional<BigDecimal> fraction() {
		return Stream
			.of(share(this.grams, GRAMS_AT_MOST), share(this.areaCm2, AREA_AT_MOST_CM2),
					share((this.minutes != null) ? BigDecimal.valueOf(this.minutes) : null, MINUTES_AT_MOST))
			.flatMap(Optional::stream)
			.max(BigDecimal::compareTo);
	}

	/** Whether a measure is above its limit; the limit itself is not. */
	public boolean exceeds(Measure measure) {
		return switch (measure) {
			case GRAMS -> this.grams != null && this.grams.compareTo(GRAMS_AT_MOST) > 0;
			case AREA -> this.areaCm2 != null && this.areaCm2.compareTo(AREA_AT_MOST_CM2) > 0;
			case MINUTES -> this.minutes != null && BigDecimal.valueOf(this.minutes).compareTo(MINUTES_AT_MOST) > 0;
		};
	}

	/** Whether the area is one to be noted without being above the limit. */
	public boolean coversMuch() {
		return this.areaCm2 != null && this.areaCm2.compareTo(AREA_TO_NOTE_CM2) > 0 && !exceeds(Measure.AREA);
	}

	private static Optional<BigDecimal> share(@Nullable BigDecimal value, BigDecimal limit) {
		return Optional.ofNullable(value).map((known) -> known.divide(limit, MathContext.DECIMAL128));
	}

}
