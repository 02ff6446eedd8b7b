package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Stream;

import jakarta.persistence.Embeddable;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import org.hibernate.annotations.JdbcTypeCode;
import org.hibernate.type.SqlTypes;
import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.ScarType;

/**
 * What was measured and judged of one scar at one visit. What was not, is {@code null}.
 * <p>
 * Hard limits are refused, soft ones give a {@link Warning}; all of them are conventions,
 * the usual widths by type after Jacob CI, Dover JS, Kaminer MS, J Am Acad Dermatol
 * 2001;45:109–117, as tabulated by Fabbrocini G et al., Dermatol Res Pract 2010:893080.
 *
 * @param lengthMm above 0 to 300 mm, not below the width
 * @param widthMm above 0 to 100 mm
 * @param depthMm 0 to 10 mm; a raised or flat scar has none
 * @param depthClass follows from the depth where there is one
 * @param severity 0 to 4
 * @param response the practitioner's judgement: -1 worse, 0 none, 1 under 25 %, 2 from 25
 * to 50 %, 3 above 50 to 75 %, 4 above 75 %
 */
@Embeddable
public record ScarMeasurement(@Nullable BigDecimal lengthMm, @Nullable BigDecimal widthMm, @Nullable BigDecimal depthMm,
		@Enumerated(EnumType.STRING) @Nullable DepthMethod depthMethod,
		@Enumerated(EnumType.STRING) @Nullable DepthClass depthClass,
		@JdbcTypeCode(SqlTypes.SMALLINT) @Nullable Integer severity,
		@JdbcTypeCode(SqlTypes.SMALLINT) @Nullable Integer response) {

	public static final ScarMeasurement NOTHING = new ScarMeasurement(null, null, null, null, null, null, null);

	private static final BigDecimal LONGEST_MM = new BigDecimal("300");

	private static final BigDecimal WIDEST_MM = new BigDecimal("100");

	private static final BigDecimal DEEPEST_MM = new BigDecimal("10");

	private static final BigDecimal UNUSUALLY_DEEP_MM = new BigDecimal("3");

	public ScarMeasurement {
		requireWithin("length", lengthMm, LONGEST_MM, false);
		requireWithin("width", widthMm, WIDEST_MM, false);
		requireWithin("depth", depthMm, DEEPEST_MM, true);
		if (severity != null && (severity < 0 || severity > 4)) {
			throw new IllegalArgumentException("severity must be from 0 to 4, was " + severity);
		}
		if (response != null && (response < -1 || response > 4)) {
			throw new IllegalArgumentException("response must be from -1 to 4, was " + response);
		}
	}

	/** Why a measurement cannot be true, and the field at which to say so. */
	public enum Contradiction {

		SHORTER_THAN_WIDE("lengthMm"), DEPTH_WITHOUT_HOLLOW("depthMm"), CLASS_WITHOUT_HOLLOW("depthClass"),
		CLASS_AGAINST_DEPTH("depthClass"), DEPTH_WITHOUT_METHOD("depthMethod");

		private final String field;

		Contradiction(String field) {
			this.field = field;
		}

		public String field() {
			return this.field;
		}

	}

	/** What is unusual enough to look at again. */
	public enum Warning {

		WIDER_THAN_USUAL, NARROWER_THAN_USUAL, DEEPER_THAN_USUAL, SHALLOW_ICE_PICK

	}

	/** Whether nothing was measured or judged. */
	public boolean isEmpty() {
		return Stream.of(this.lengthMm, this.widthMm, this.depthMm, this.depthClass, this.severity, this.response)
			.allMatch(Objects::isNull);
	}

	/**
	 * The same with what follows from it: the class from the depth where none was said,
	 * and no method where there is no depth.
	 */
	public ScarMeasurement completed() {
		var ofDepth = (this.depthMm != null) ? DepthClass.of(this.depthMm) : null;
		return new ScarMeasurement(this.lengthMm, this.widthMm, this.depthMm,
				(this.depthMm != null) ? this.depthMethod : null, (this.depthClass != null) ? this.depthClass : ofDepth,
				this.severity, this.response);
	}

	/** What cannot be true of a scar of this type. */
	public List<Contradiction> contradictions(ScarType type) {
		var found = new ArrayList<Contradiction>();
		if (this.lengthMm != null && this.widthMm != null && this.lengthMm.compareTo(this.widthMm) < 0) {
			found.add(Contradiction.SHORTER_THAN_WIDE);
		}
		if (!isHollow(type)) {
			if (this.depthMm != null) {
				found.add(Contradiction.DEPTH_WITHOUT_HOLLOW);
			}
			if (this.depthClass != null) {
				found.add(Contradiction.CLASS_WITHOUT_HOLLOW);
			}
			return found;
		}
		if (this.depthMm != null && this.depthMethod == null) {
			found.add(Contradiction.DEPTH_WITHOUT_METHOD);
		}
		if (this.depthMm != null && this.depthClass != null && this.depthClass != DepthClass.of(this.depthMm)) {
			found.add(Contradiction.CLASS_AGAINST_DEPTH);
		}
		return found;
	}

	/**
	 * What is unusual for a scar of this type. The size suggests a type and never sets
	 * it: dermatologists agree poorly on the three atrophic shapes (Kang S et al., J
	 * Drugs Dermatol 2016;15:693).
	 */
	public Set<Warning> warnings(ScarType type) {
		var found = EnumSet.noneOf(Warning.class);
		if (this.widthMm != null) {
			if (isWiderThanUsual(type, this.widthMm)) {
				found.add(Warning.WIDER_THAN_USUAL);
			}
			if (isNarrowerThanUsual(type, this.widthMm)) {
				found.add(Warning.NARROWER_THAN_USUAL);
			}
		}
		if (this.depthMm != null && this.depthMm.compareTo(UNUSUALLY_DEEP_MM) > 0) {
			found.add(Warning.DEEPER_THAN_USUAL);
		}
		if (type == ScarType.ICE_PICK && completed().depthClass() == DepthClass.SHALLOW) {
			found.add(Warning.SHALLOW_ICE_PICK);
		}
		return found;
	}

	/** Whether a scar of this type has a depth that could be measured. */
	public static boolean isHollow(ScarType type) {
		return switch (type) {
			case ICE_PICK, BOXCAR, ROLLING, LINEAR, FOLD, UNCLASSIFIED -> true;
			case HYPERTROPHIC, KELOID, MACULAR -> false;
		};
	}

	private static boolean isWiderThanUsual(ScarType type, BigDecimal widthMm) {
		return switch (type) {
			case ICE_PICK -> widthMm.compareTo(new BigDecimal("2")) >= 0;
			case BOXCAR -> widthMm.compareTo(new BigDecimal("4")) > 0;
			case LINEAR -> widthMm.compareTo(new BigDecimal("5")) > 0;
			case ROLLING, FOLD, HYPERTROPHIC, KELOID, MACULAR, UNCLASSIFIED -> false;
		};
	}

	private static boolean isNarrowerThanUsual(ScarType type, BigDecimal widthMm) {
		return switch (type) {
			case BOXCAR -> widthMm.compareTo(new BigDecimal("1.5")) < 0;
			case ROLLING -> widthMm.compareTo(new BigDecimal("4")) <= 0;
			case ICE_PICK, LINEAR, FOLD, HYPERTROPHIC, KELOID, MACULAR, UNCLASSIFIED -> false;
		};
	}

	/**
	 * Whether both say the same, so that an unchanged field makes no new version: 0.50 is
	 * 0.5.
	 */
	boolean saysTheSameAs(ScarMeasurement other) {
		return same(this.lengthMm, other.lengthMm) && same(this.widthMm, other.widthMm)
				&& same(this.depthMm, other.depthMm) && this.depthMethod == other.depthMethod
				&& this.depthClass == other.depthClass && Objects.equals(this.severity, other.severity)
				&& Objects.equals(this.response, other.response);
	}

	static boolean same(@Nullable BigDecimal one, @Nullable BigDecimal other) {
		return (one == null || other == null) ? one == other : one.compareTo(other) == 0;
	}

	private static void requireWithin(String name, @Nullable BigDecimal mm, BigDecimal largest, boolean mayBeZero) {
		if (mm != null && (mm.signum() < 0 || (mm.signum() == 0 && !mayBeZero) || mm.compareTo(largest) > 0)) {
			throw new IllegalArgumentException(
					name + " must be " + (mayBeZero ? "from" : "above") + " 0 to " + largest + " mm, was " + mm);
		}
	}

}
