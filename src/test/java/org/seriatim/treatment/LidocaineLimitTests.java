package org.seriatim.treatment;

import java.math.BigDecimal;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.treatment.LidocaineLimit.Known;
import org.seriatim.treatment.LidocaineLimit.Missing;
import org.seriatim.treatment.LidocaineLimit.Profile;
import org.seriatim.treatment.LidocaineLimit.Unknown;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

/**
 * Expected values by arithmetic from the US prescribing information, lidocaine
 * hydrochloride injection: 4.5 mg/kg and 300 mg plain, 7 mg/kg and 500 mg with
 * epinephrine.
 */
class LidocaineLimitTests {

	@ParameterizedTest
	@CsvSource({ "45, false, 202.5", "60, false, 270", "66, false, 297", "67, false, 300", "80, false, 300",
			"50, true, 350", "71, true, 497", "72, true, 500", "90, true, 500" })
	void isTheSmallerOfTheMassPerKilogramAndTheCap(BigDecimal weightKg, boolean epinephrine, BigDecimal limitMg) {
		assertThat(LidocaineLimit.of(Profile.US_LABEL, weightKg, 0, 40, epinephrine))
			.isInstanceOfSatisfying(Known.class, (limit) -> assertThat(limit.limitMg()).isEqualByComparingTo(limitMg));
	}

	@Test
	void tellsWhatWasGivenAsAShare() {
		assertThat(known("60").fractionOf(new BigDecimal("7.5"))).isCloseTo(new BigDecimal("0.0278"),
				within(new BigDecimal("0.0001")));
	}

	@Test
	void isNotExceededByTheLimitItself() {
		assertThat(known("60").isExceededBy(new BigDecimal("270"))).isFalse();
		assertThat(known("60").isExceededBy(new BigDecimal("270.001"))).isTrue();
	}

	@Test
	void isUnknownWithoutAWeight() {
		assertThat(LidocaineLimit.of(Profile.US_LABEL, null, 0, 40, false))
			.isEqualTo(new Unknown(Missing.NO_WEIGHT_ON_RECORD));
	}

	@Test
	void isUnknownOnceTheWeightIsOlderThan180Days() {
		assertThat(LidocaineLimit.of(Profile.US_LABEL, new BigDecimal("60"), 180, 40, false)).isInstanceOf(Known.class);
		assertThat(LidocaineLimit.of(Profile.US_LABEL, new BigDecimal("60"), 181, 40, false))
			.isEqualTo(new Unknown(Missing.WEIGHT_TOO_OLD));
	}

	@Test
	void isUnknownForSomebodyUnder18() {
		assertThat(LidocaineLimit.of(Profile.US_LABEL, new BigDecimal("60"), 0, 17, false))
			.isEqualTo(new Unknown(Missing.UNDER_AGE));
		assertThat(LidocaineLimit.of(Profile.US_LABEL, new BigDecimal("60"), 0, 18, false)).isInstanceOf(Known.class);
	}

	@Test
	void carriesTheAdviceForTheElderlyFrom65() {
		assertThat(LidocaineLimit.of(Profile.US_LABEL, new BigDecimal("60"), 0, 64, false))
			.isInstanceOfSatisfying(Known.class, (limit) -> assertThat(limit.elderly()).isFalse());
		assertThat(LidocaineLimit.of(Profile.US_LABEL, new BigDecimal("60"), 0, 65, false))
			.isInstanceOfSatisfying(Known.class, (limit) -> assertThat(limit.elderly()).isTrue());
	}

	private static Known known(String weightKg) {
		return (Known) LidocaineLimit.of(Profile.US_LABEL, new BigDecimal(weightKg), 0, 40, false);
	}

}
