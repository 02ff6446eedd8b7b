package org.seriatim.treatment;

import java.math.BigDecimal;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

/**
 * Expected values by arithmetic from 1 % = 10 mg/mL (product labelling); the contents of
 * the vials are invented. Printed with at most three decimals, hence the tolerance.
 */
class MixtureTests {

	private static final BigDecimal PRINTED = new BigDecimal("0.01");

	@ParameterizedTest
	@CsvSource({
			// vial mg, diluent mL, lidocaine %, lidocaine mL, injected mL,
			// total mL, mg/mL, lidocaine mg/mL, injected mg, injected lidocaine mg
			"150, 5, 1, 1, 4.5, 6.0, 25.0, 1.667, 112.5, 7.5", "150, 8, 2, 1, 9, 9.0, 16.667, 2.222, 150.0, 20.0",
			"100, 4, 2, 1, 3.2, 5.0, 20.0, 4.0, 64.0, 12.8", "20, 4, 2, 1, 3.2, 5.0, 4.0, 4.0, 12.8, 12.8",
			"100, 6, 0, 0, 2.5, 6.0, 16.667, 0.0, 41.67, 0.0", "20, 6, 0, 0, 2.5, 6.0, 3.333, 0.0, 8.333, 0.0" })
	void mixesAWholeVial(BigDecimal vialMg, BigDecimal diluentMl, BigDecimal lidocainePercent, BigDecimal lidocaineMl,
			BigDecimal injectedMl, BigDecimal totalMl, BigDecimal mgPerMl, BigDecimal lidocaineMgPerMl,
			BigDecimal injectedMg, BigDecimal injectedLidocaineMg) {
		var mixture = Mixture.ofWholeVial(vialMg, diluentMl, lidocainePercent, lidocaineMl);
		assertThat(mixture.totalMl()).isEqualByComparingTo(totalMl);
		assertThat(mixture.substanceMgPerMl()).isCloseTo(mgPerMl, within(PRINTED));
		assertThat(mixture.lidocaineMgPerMl()).isCloseTo(lidocaineMgPerMl, within(PRINTED));
		assertThat(mixture.substanceMgIn(injectedMl)).isCloseTo(injectedMg, within(PRINTED));
		assertThat(mixture.lidocaineMgIn(injectedMl)).isCloseTo(injectedLidocaineMg, within(PRINTED));
	}

	@Test
	void holdsOnlyTheDrawnPartOfTheVial() {
		// half of 150 mg, made up to 2.5 + 0.5 + 1 mL
		var mixture = Mixture.of(mg("150"), ml("5"), ml("2.5"), ml("0.5"), mg("2"), ml("1"));
		assertThat(mixture.substanceMg()).isEqualByComparingTo("75");
		assertThat(mixture.substanceMgPerMl()).isEqualByComparingTo("18.75");
		assertThat(mixture.lidocaineMgPerMl()).isEqualByComparingTo("5");
	}

	@Test
	void refusesMoreStockThanWasInTheVial() {
		assertThatIllegalArgumentException()
			.isThrownBy(() -> Mixture.of(mg("150"), ml("6.0"), ml("6.2"), ml("0"), mg("0"), ml("0")))
			.withMessageContaining("stockDrawnMl");
	}

	@Test
	void refusesAVialWithoutDiluent() {
		assertThatIllegalArgumentException()
			.isThrownBy(() -> Mixture.of(mg("150"), ml("0"), ml("0"), ml("1"), mg("0"), ml("0")))
			.withMessageContaining("diluentMl");
	}

	private static BigDecimal mg(String value) {
		return new BigDecimal(value);
	}

	private static BigDecimal ml(String value) {
		return new BigDecimal(value);
	}

}
