package org.seriatim.treatment;

import java.math.BigDecimal;
import java.math.MathContext;

/**
 * What one millilitre of a preparation holds, and so what was given with a volume of it.
 * <p>
 * A vial with <em>P</em> mg of dry substance is dissolved in <em>D</em> mL; <em>S</em> mL
 * of that stock are drawn and mixed with <em>A</em> mL of further diluent and <em>L</em>
 * mL of lidocaine of strength <em>c</em> percent. With <em>V = S + A + L</em>:
 * <ul>
 * <li>substance: <em>P S / (D V)</em> mg/mL;</li>
 * <li>lidocaine: <em>10 c L / V</em> mg/mL, since 1 % is 10 mg/mL (product
 * labelling);</li>
 * <li>given with <em>v</em> mL: the concentration times <em>v</em>.</li>
 * </ul>
 * The volume of the powder is left out (common practice, no source). A vial with two dry
 * substances is two mixtures of the same volumes. Nothing is rounded here beyond 34
 * digits.
 *
 * @param substanceMg dry substance in the drawn stock, in milligrams
 * @param lidocaineMg lidocaine in the mixture, in milligrams
 * @param totalMl volume of the mixture, above 0
 */
public record Mixture(BigDecimal substanceMg, BigDecimal lidocaineMg, BigDecimal totalMl) {

	/** 1 % is 1 g in 100 mL. */
	private static final BigDecimal MG_PER_ML_AND_PERCENT = BigDecimal.TEN;

	public Mixture {
		if (substanceMg.signum() < 0 || lidocaineMg.signum() < 0) {
			throw new IllegalArgumentException(
					"substanceMg and lidocaineMg must not be negative, were " + substanceMg + " and " + lidocaineMg);
		}
		if (totalMl.signum() <= 0) {
			throw new IllegalArgumentException("totalMl must be above 0, was " + totalMl);
		}
	}

	/**
	 * The whole vial, mixed with lidocaine in the vial itself.
	 * @param vialMg dry substance in the vial
	 * @param diluentMl diluent put into the vial
	 * @param lidocainePercent strength of the lidocaine
	 * @param lidocaineMl volume of the lidocaine
	 */
	public static Mixture ofWholeVial(BigDecimal vialMg, BigDecimal diluentMl, BigDecimal lidocainePercent,
			BigDecimal lidocaineMl) {
		return of(vialMg, diluentMl, diluentMl, BigDecimal.ZERO, lidocainePercent, lidocaineMl);
	}

	/**
	 * What was drawn out of the vial, mixed in the syringes.
	 * @param vialMg dry substance in the vial
	 * @param diluentMl diluent put into the vial, above 0
	 * @param stockDrawnMl drawn out of it, at most {@code diluentMl}
	 * @param addedDiluentMl further diluent
	 * @param lidocainePercent strength of the lidocaine
	 * @param lidocaineMl volume of the lidocaine
	 */
	public static Mixture of(BigDecimal vialMg, BigDecimal diluentMl, BigDecimal stockDrawnMl,
			BigDecimal addedDiluentMl, BigDecimal lidocainePercent, BigDecimal lidocaineMl) {
		if (diluentMl.signum() <= 0) {
			throw new IllegalArgumentException("diluentMl must be above 0, was " + diluentMl);
		}
		if (stockDrawnMl.compareTo(diluentMl) > 0) {
			throw new IllegalArgumentException(
					"stockDrawnMl must be at most diluentMl " + diluentMl + ", was " + stockDrawnMl);
		}
		return new Mixture(vialMg.multiply(stockDrawnMl).divide(diluentMl, MathContext.DECIMAL128),
				lidocaineMg(lidocainePercent, lidocaineMl), stockDrawnMl.add(addedDiluentMl).add(lidocaineMl));
	}

	/** Lidocaine, in milligrams, in this volume of a solution of this strength. */
	static BigDecimal lidocaineMg(BigDecimal percent, BigDecimal solutionMl) {
		return MG_PER_ML_AND_PERCENT.multiply(percent).multiply(solutionMl);
	}

	public BigDecimal substanceMgPerMl() {
		return this.substanceMg.divide(this.totalMl, MathContext.DECIMAL128);
	}

	public BigDecimal lidocaineMgPerMl() {
		return this.lidocaineMg.divide(this.totalMl, MathContext.DECIMAL128);
	}

	/** Dry substance, in milligrams, in this volume of the mixture. */
	public BigDecimal substanceMgIn(BigDecimal injectedMl) {
		return this.substanceMg.multiply(injectedMl).divide(this.totalMl, MathContext.DECIMAL128);
	}

	/** Lidocaine, in milligrams, in this volume of the mixture. */
	public BigDecimal lidocaineMgIn(BigDecimal injectedMl) {
		return this.lidocaineMg.multiply(injectedMl).divide(this.totalMl, MathContext.DECIMAL128);
	}

}
