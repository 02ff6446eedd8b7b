package org.seriatim.treatment;

import java.math.BigDecimal;
import java.util.List;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

/**
 * Expected values by the conservation of volume, with a tolerance of 0.05 mL.
 */
class VolumeBalanceTests {

	@ParameterizedTest
	@CsvSource({ "5.0, 4.6, 0.4, 0.0, true", "4.6, 4.6, 0.0, 0.0, true", "5.0, 4.6, 0.35, 0.05, true",
			"5.0, 4.6, 0.3, 0.1, false", "4.6, 4.6, 0.05, -0.05, true", "4.6, 4.6, 0.051, -0.051, false" })
	void comparesWhatWasPreparedWithWhatBecameOfIt(BigDecimal prepared, BigDecimal injected, BigDecimal discarded,
			BigDecimal difference, boolean addsUp) {
		var balance = new VolumeBalance(prepared, injected, discarded);
		assertThat(balance.differenceMl()).isEqualByComparingTo(difference);
		assertThat(balance.addsUp()).isEqualTo(addsUp);
	}

	@Test
	void sumsOverTheInjections() {
		var balance = VolumeBalance.of(ml("3.6"), ml("0.5"), ml("0.5"),
				Stream.of("1.2", "1.2", "1.1", "1.1").map(VolumeBalanceTests::ml).toList(), ml("0"));
		assertThat(balance.injectedMl()).isEqualByComparingTo("4.6");
		assertThat(balance.addsUp()).isTrue();
	}

	@Test
	void holdsForManySmallVolumesThatNoBinaryFractionMeets() {
		var injected = Stream.generate(() -> ml("0.01")).limit(500).toList();
		assertThat(VolumeBalance.of(ml("5"), ml("0"), ml("0"), injected, ml("0")).differenceMl()).isZero();
	}

	@Test
	void refusesANegativeVolume() {
		assertThatIllegalArgumentException()
			.isThrownBy(() -> VolumeBalance.of(ml("1"), ml("0"), ml("0"), List.of(), ml("-0.1")))
			.withMessageContaining("discardedMl");
	}

	private static BigDecimal ml(String value) {
		return new BigDecimal(value);
	}

}
