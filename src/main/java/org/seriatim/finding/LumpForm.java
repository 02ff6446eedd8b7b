package org.seriatim.finding;

import java.math.BigDecimal;
import java.util.Locale;

/**
 * What a lump is called by its largest diameter. It follows from the size and is stored
 * nowhere.
 */
public enum LumpForm {

	PAPULE, NODULE;

	/**
	 * @param noduleFromMm diameter from which on a papule is called a nodule
	 */
	public static LumpForm of(BigDecimal sizeMm, BigDecimal noduleFromMm) {
		return (sizeMm.compareTo(noduleFromMm) < 0) ? PAPULE : NODULE;
	}

	/** The word of its text. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

}
