package org.seriatim.treatment;

import java.time.LocalDate;
import java.util.List;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.seriatim.patient.SkinThickness;
import org.seriatim.treatment.ProtocolVersion.SkinShift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

class ProtocolVersionTests {

	@Test
	void shiftsByTheThicknessOfTheSkin() {
		var protocol = protocol(42, 0.9, new SkinShift(-7, 0, 7), List.of(1));

		assertThat(protocol.shiftFor(SkinThickness.THIN)).isEqualTo(-7);
		assertThat(protocol.shiftFor(SkinThickness.MEDIUM)).isZero();
		assertThat(protocol.shiftFor(SkinThickness.THICK)).isEqualTo(7);
		assertThat(protocol.shiftFor(null)).isZero();
	}

	@ParameterizedTest
	@ValueSource(doubles = { 0, 1, -0.1, 1.1, Double.NaN })
	void refusesAProbabilityThatIsNone(double probability) {
		assertThatIllegalArgumentException().isThrownBy(() -> protocol(42, probability, SkinShift.NOT_SET, List.of(1)))
			.withMessageContaining("clearingProbability");
	}

	@ParameterizedTest
	@ValueSource(ints = { 0, -1, 366 })
	void refusesAnIntervalThatIsNone(int base) {
		assertThatIllegalArgumentException().isThrownBy(() -> protocol(base, 0.9, SkinShift.NOT_SET, List.of(1)))
			.withMessageContaining("baseDays");
	}

	@Test
	void refusesAShiftThatLeavesNoInterval() {
		assertThatIllegalArgumentException().isThrownBy(() -> protocol(42, 0.9, new SkinShift(-42, 0, 0), List.of(1)))
			.withMessageContaining("skinShift");
	}

	@Test
	void refusesContactDaysThatDoNotRise() {
		assertThatIllegalArgumentException().isThrownBy(() -> protocol(42, 0.9, SkinShift.NOT_SET, List.of(1, 3, 3)))
			.withMessageContaining("contactDays");
		assertThatIllegalArgumentException().isThrownBy(() -> protocol(42, 0.9, SkinShift.NOT_SET, List.of(0)))
			.withMessageContaining("contactDays");
		assertThatIllegalArgumentException().isThrownBy(() -> protocol(42, 0.9, SkinShift.NOT_SET, List.of()))
			.withMessageContaining("contactDays");
	}

	private static ProtocolVersion protocol(int base, double probability, SkinShift skin, List<Integer> contacts) {
		return new ProtocolVersion(1, LocalDate.of(2026, 1, 1), base, 14, 56, 14, 14, probability, 30, 10, 5, 3, 3,
				skin, contacts, 7);
	}

}
