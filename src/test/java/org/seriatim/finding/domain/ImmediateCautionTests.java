package org.seriatim.finding.domain;

import java.util.Set;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.RedFlagSign;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Check values C095 and C096 of the clinical basis: King et al., J Clin Aesthet Dermatol
 * 2020;13:E53–E58; Murray et al., 2021;14:E61–E69 (V).
 */
class ImmediateCautionTests {

	/** C095: livedo on what is called a bruise. */
	@Test
	void opensForOneSignOfWhateverIsHarmless() {
		assertThat(ImmediateCaution.isNeeded(FindingKind.BRUISE, Set.of(RedFlagSign.MOTTLING))).isTrue();
	}

	@ParameterizedTest
	@EnumSource
	void opensForAnySingleSign(RedFlagSign sign) {
		assertThat(ImmediateCaution.isNeeded(FindingKind.LUMP, Set.of(sign))).isTrue();
		assertThat(ImmediateCaution.isNeeded(null, Set.of(sign))).isTrue();
	}

	/** C096. */
	@Test
	void staysShutForALumpWithoutSigns() {
		assertThat(ImmediateCaution.isNeeded(FindingKind.LUMP, Set.of())).isFalse();
	}

}
