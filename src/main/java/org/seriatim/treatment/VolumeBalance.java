package org.seriatim.treatment;

import java.math.BigDecimal;
import java.util.Collection;

/**
 * Whether the volume of one preparation adds up:
 * <p>
 * stock drawn + added diluent + lidocaine = injected + discarded, within
 * {@value #TOLERANCE} mL.
 * <p>
 * The law is the conservation of volume, with the volume of the powder left out (common
 * practice, no source); the tolerance is a convention.
 *
 * @param preparedMl what was in the syringes, in millilitres; below zero where the amount
 * drawn was worked out as a remainder
 * @param injectedMl what was injected from it, over all injections
 * @param discardedMl what was thrown away
 */
public record VolumeBalance(BigDecimal preparedMl, BigDecimal injectedMl, BigDecimal discardedMl) {

	private static final String TOLERANCE = "0.05";

	/** Largest difference, in millilitres, that still counts as adding up. */
	public static final BigDecimal TOLERANCE_ML = new BigDecimal(TOLERANCE);

	public VolumeBalance {
		requireVolume("injectedMl", injectedMl);
		requireVolume("discardedMl", discardedMl);
	}

	/**
	 * The balance of what was drawn and mixed against what became of it, all in
	 * millilitres.
	 * @param stockDrawn out of the vial
	 * @param addedDiluent into the syringes
	 * @param lidocaine solution added
	 * @param injected the volume of each injection
	 * @param discarded thrown away
	 */
	public static VolumeBalance of(BigDecimal stockDrawn, BigDecimal addedDiluent, BigDecimal lidocaine,
			Collection<BigDecimal> injected, BigDecimal discarded) {
		return new VolumeBalance(stockDrawn.add(addedDiluent).add(lidocaine),
				injected.stream().reduce(BigDecimal.ZERO, BigDecimal::add), discarded);
	}

	/**
	 * Prepared less injected less discarded: positive where something is missing,
	 * negative where more was used than prepared.
	 */
	public BigDecimal differenceMl() {
		return this.preparedMl.subtract(this.injectedMl).subtract(this.discardedMl);
	}

	/** Whether it adds up; the tolerance itself still does. */
	public boolean addsUp() {
		return differenceMl().abs().compareTo(TOLERANCE_ML) <= 0;
	}

	private static void requireVolume(String name, BigDecimal value) {
		if (value.signum() < 0) {
			throw new IllegalArgumentException(name + " must not be negative, was " + value);
		}
	}

}
