package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.util.Objects;

import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import org.hibernate.annotations.JdbcTypeCode;
import org.hibernate.type.SqlTypes;
import org.jspecify.annotations.Nullable;

/**
 * Pores of one region. No pore scale that is free to use and generally accepted was
 * found, so the grades are the service's own words: 0 none visible at 30 cm; 1 a few fine
 * ones, only within 30 cm; 2 visible at about 50 cm in one area of the region; 3 visible
 * at about 50 cm over most of it; 4 large, stretched or merging, visible at about 1 m.
 *
 * @param grade 0 to 4
 * @param poresPerCm2 pores of 0.25 mm and more on a square centimetre, at least 0
 */
@Embeddable
public record PoreFinding(@JdbcTypeCode(SqlTypes.SMALLINT) @Nullable Integer grade,
		@Column(name = "pores_per_cm2") @Nullable BigDecimal poresPerCm2) {

	public static final PoreFinding NOTHING = new PoreFinding(null, null);

	/**
	 * Follicle openings of the forehead are about 292 on a square centimetre (Otberg N et
	 * al., J Invest Dermatol 2004, from memory); more pores than that are unlikely.
	 */
	private static final BigDecimal UNUSUALLY_DENSE = new BigDecimal("300");

	public PoreFinding {
		if (grade != null && (grade < 0 || grade > 4)) {
			throw new IllegalArgumentException("grade must be from 0 to 4, was " + grade);
		}
		if (poresPerCm2 != null && poresPerCm2.signum() < 0) {
			throw new IllegalArgumentException("pores per cm² must be at least 0, was " + poresPerCm2);
		}
	}

	public boolean isEmpty() {
		return this.grade == null && this.poresPerCm2 == null;
	}

	/** Whether there are more pores than there usually are follicles. */
	public boolean isUnusuallyDense() {
		return this.poresPerCm2 != null && this.poresPerCm2.compareTo(UNUSUALLY_DENSE) > 0;
	}

	boolean saysTheSameAs(PoreFinding other) {
		return Objects.equals(this.grade, other.grade) && ScarMeasurement.same(this.poresPerCm2, other.poresPerCm2);
	}

}
