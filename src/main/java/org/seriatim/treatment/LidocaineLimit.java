package org.seriatim.treatment;

import java.math.BigDecimal;
import java.math.MathContext;

import org.jspecify.annotations.Nullable;

/**
 * The reference limit for lidocaine given by infiltration to an adult: the smaller of a
 * mass for each kilogram of body weight and a cap for anybody. It is a figure to compare
 * a record with, never a dose to give.
 */
public sealed interface LidocaineLimit {

	/** Days for which a recorded weight holds (a convention). */
	int WEIGHT_HOLDS_DAYS = 180;

	/** No figure is shown under this age, in years: the profiles are for adults. */
	int ADULT_FROM_YEARS = 18;

	/**
	 * From this age on, in years, the label's advice of lower doses for the elderly is
	 * shown beside the limit (the age is a convention).
	 */
	int ELDERLY_FROM_YEARS = 65;

	/**
	 * Where the figures come from. Countries differ; others may be stricter.
	 */
	enum Profile {

		/**
		 * US prescribing information, lidocaine hydrochloride injection: without
		 * epinephrine not above 4.5 mg/kg and in general not above 300 mg in total; with
		 * epinephrine not above 7 mg/kg and in general not above 500 mg.
		 */
		US_LABEL("4.5", "300", "7", "500");

		private final BigDecimal plainMgPerKg;

		private final BigDecimal plainCapMg;

		private final BigDecimal withEpinephrineMgPerKg;

		private final BigDecimal withEpinephrineCapMg;

		Profile(String plainMgPerKg, String plainCapMg, String withEpinephrineMgPerKg, String withEpinephrineCapMg) {
			this.plainMgPerKg = new BigDecimal(plainMgPerKg);
			this.plainCapMg = new BigDecimal(plainCapMg);
			this.withEpinephrineMgPerKg = new BigDecimal(withEpinephrineMgPerKg);
			this.withEpinephrineCapMg = new BigDecimal(withEpinephrineCapMg);
		}

		private BigDecimal limitMg(BigDecimal weightKg, boolean epinephrine) {
			return epinephrine ? weightKg.multiply(this.withEpinephrineMgPerKg).min(this.withEpinephrineCapMg)
					: weightKg.multiply(this.plainMgPerKg).min(this.plainCapMg);
		}

	}

	/** Why no limit can be shown. */
	enum Missing {

		NO_WEIGHT_ON_RECORD, WEIGHT_TOO_OLD, UNDER_AGE

	}

	/**
	 * A limit in milligrams.
	 *
	 * @param elderly whether the label's advice of lower doses goes with it
	 */
	record Known(BigDecimal limitMg, boolean elderly) implements LidocaineLimit {

		/** What was given as a share of the limit: 1 is the limit itself. */
		public BigDecimal fractionOf(BigDecimal givenMg) {
			return givenMg.divide(this.limitMg, MathContext.DECIMAL128);
		}

		/** Whether more was given than the limit; the limit itself is not exceeded. */
		public boolean isExceededBy(BigDecimal givenMg) {
			return givenMg.compareTo(this.limitMg) > 0;
		}

	}

	/** No limit can be shown. */
	record Unknown(Missing missing) implements LidocaineLimit {
	}

	/**
	 * The limit for one patient on one day.
	 * @param weightKg last recorded body weight, {@code null} if there is none
	 * @param weightAgeDays days since it was recorded
	 * @param ageYears age in whole years, {@code null} if the birth date is not recorded
	 * @param epinephrine whether the solution holds epinephrine
	 */
	static LidocaineLimit of(Profile profile, @Nullable BigDecimal weightKg, long weightAgeDays,
			@Nullable Integer ageYears, boolean epinephrine) {
		if (ageYears != null && ageYears < ADULT_FROM_YEARS) {
			return new Unknown(Missing.UNDER_AGE);
		}
		if (weightKg == null) {
			return new Unknown(Missing.NO_WEIGHT_ON_RECORD);
		}
		if (weightKg.signum() <= 0) {
			throw new IllegalArgumentException("weightKg must be above 0, was " + weightKg);
		}
		if (weightAgeDays > WEIGHT_HOLDS_DAYS) {
			return new Unknown(Missing.WEIGHT_TOO_OLD);
		}
		return new Known(profile.limitMg(weightKg, epinephrine), ageYears != null && ageYears >= ELDERLY_FROM_YEARS);
	}

}
