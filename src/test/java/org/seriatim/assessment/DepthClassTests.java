package org.seriatim.assessment;

import java.math.BigDecimal;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

class DepthClassTests {

	/**
	 * Below 0.1 mm, from there, and from 0.5 mm on, each edge from both sides: Jacob et
	 * al. 2001 by way of Fabbrocini et al. 2010, Table 1; that 0.5 itself is deep is
	 * ours.
	 */
	@ParameterizedTest
	@CsvSource({ "0, MINIMAL", "0.05, MINIMAL", "0.0999, MINIMAL", "0.1, SHALLOW", "0.3, SHALLOW", "0.49, SHALLOW",
			"0.4999, SHALLOW", "0.5, DEEP", "0.50, DEEP", "1.2, DEEP" })
	void followsFromTheDepth(BigDecimal mm, DepthClass expected) {
		assertThat(DepthClass.of(mm)).isEqualTo(expected);
	}

	@Test
	void refusesANegativeDepth() {
		assertThatIllegalArgumentException().isThrownBy(() -> DepthClass.of(new BigDecimal("-0.1")));
	}

}
