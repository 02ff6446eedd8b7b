package org.seriatim.assessment;

import java.math.BigDecimal;
import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/**
 * Minimal under 0.1 mm, shallow under 0.5 mm, deep from 0.5 mm on (Jacob 2001; edges are
 * conventions).
 */
public enum DepthClass {

	MINIMAL, SHALLOW, DEEP;

	private static final BigDecimal SHALLOW_FROM_MM = new BigDecimal("0.1");

	private static final BigDecimal DEEP_FROM_MM = new BigDecimal("0.5");

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/**
	 * The class of a depth.
	 * @param mm millimetres, at least 0
	 */
	public static DepthClass of(BigDecimal mm) {
		if (mm.signum() < 0) {
			throw new IllegalArgumentException("depth must be at least 0 mm, was " + mm);
		}
		if (mm.compareTo(SHALLOW_FROM_MM) < 0) {
			return MINIMAL;
		}
		return (mm.compareTo(DEEP_FROM_MM) < 0) ? SHALLOW : DEEP;
	}

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
