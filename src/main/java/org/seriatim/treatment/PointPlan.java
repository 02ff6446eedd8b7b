package org.seriatim.treatment;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.Optional;

import org.jspecify.annotations.Nullable;

/**
 * How many points cover an area at a spacing, and what they hold: arithmetic on what
 * somebody typed, never a proposal.
 * <p>
 * Points in a square grid of spacing s stand for s² each, so an area A takes A / s² of
 * them, rounded up.
 *
 * @param points at least 1
 * @param volumeMl of all points, in millilitres; {@code null} where the volume of a point
 * is unknown
 */
public record PointPlan(int points, @Nullable BigDecimal volumeMl) {

	/** More than any face takes; beyond it the entry is a slip. */
	private static final BigDecimal AT_MOST = BigDecimal.valueOf(1_000_000);

	private static final BigDecimal MM2_PER_CM2 = BigDecimal.valueOf(100);

	/**
	 * The plan for an area.
	 * @param areaCm2 above 0
	 * @param spacingMm above 0
	 * @param pointMl volume of a point, {@code null} if unknown
	 */
	public static PointPlan of(BigDecimal areaCm2, BigDecimal spacingMm, @Nullable BigDecimal pointMl) {
		if (areaCm2.signum() <= 0) {
			throw new IllegalArgumentException("areaCm2 must be above 0, was " + areaCm2);
		}
		if (spacingMm.signum() <= 0) {
			throw new IllegalArgumentException("spacingMm must be above 0, was " + spacingMm);
		}
		var points = areaCm2.multiply(MM2_PER_CM2)
			.divide(spacingMm.multiply(spacingMm), MathContext.DECIMAL128)
			.setScale(0, RoundingMode.CEILING)
			.min(AT_MOST)
			.intValueExact();
		return new PointPlan(points, PointPattern.volumeOf(points, pointMl).orElse(null));
	}

	/** What the points hold together; empty where the volume of a point is unknown. */
	public Optional<BigDecimal> volume() {
		return Optional.ofNullable(this.volumeMl);
	}

}
