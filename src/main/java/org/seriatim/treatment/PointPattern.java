package org.seriatim.treatment;

import java.math.BigDecimal;
import java.util.Optional;

import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import org.hibernate.annotations.JdbcTypeCode;
import org.hibernate.type.SqlTypes;
import org.jspecify.annotations.Nullable;

/**
 * How the points of an injection were set; {@code null} is unknown. None of it travels in
 * the exchange bundle.
 *
 * @param pointMl volume of each point, in millilitres
 * @param angleDegrees of the needle to the skin, 0 to 90
 * @param areaCm2 area that was to be covered
 * @param spacingMm distance between neighbouring points that was planned
 */
@Embeddable
public record PointPattern(@Nullable BigDecimal pointMl,
		@JdbcTypeCode(SqlTypes.SMALLINT) @Nullable Integer angleDegrees,
		@Column(name = "area_cm2") @Nullable BigDecimal areaCm2, @Nullable BigDecimal spacingMm) {

	/** Nothing of it is known. */
	public static final PointPattern UNKNOWN = new PointPattern(null, null, null, null);

	/** What was planned; empty where area or spacing is unknown. */
	public Optional<PointPlan> plan() {
		return (this.areaCm2 != null && this.spacingMm != null)
				? Optional.of(PointPlan.of(this.areaCm2, this.spacingMm, this.pointMl)) : Optional.empty();
	}

	/**
	 * The volume of so many points, in millilitres; empty where one of the two is
	 * unknown.
	 */
	public static Optional<BigDecimal> volumeOf(@Nullable Integer points, @Nullable BigDecimal pointMl) {
		return (points != null && pointMl != null) ? Optional.of(pointMl.multiply(BigDecimal.valueOf(points)))
				: Optional.empty();
	}

}
