package org.seriatim.finding;

import java.math.BigDecimal;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

/** Check values C097 to C101 of the clinical basis, version 1 of its classes (M). */
class OnsetClassTests {

	@ParameterizedTest
	@CsvSource({ "0, EARLY", "1, EARLY", "14, EARLY", "15, LATE", "365, LATE", "366, DELAYED" })
	void followsFromTheDaysAfterTheSession(long days, OnsetClass expected) {
		assertThat(OnsetClass.of(days)).isEqualTo(expected);
	}

	@Test
	void knowsNoOnsetBeforeTheSession() {
		assertThatIllegalArgumentException().isThrownBy(() -> OnsetClass.of(-1));
	}

	/** The clinical basis, 9.1: papule under 5 mm, nodule 5 mm or more (M). */
	@ParameterizedTest
	@CsvSource({ "0.1, PAPULE", "4.9, PAPULE", "5, NODULE", "5.0, NODULE", "12, NODULE" })
	void callsALumpByItsDiameter(BigDecimal sizeMm, LumpForm expected) {
		assertThat(LumpForm.of(sizeMm, new BigDecimal("5"))).isEqualTo(expected);
	}

}
