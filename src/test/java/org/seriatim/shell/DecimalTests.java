package org.seriatim.shell;

import java.math.BigDecimal;

import jakarta.validation.Validation;
import jakarta.validation.Validator;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.NullSource;
import org.junit.jupiter.params.provider.ValueSource;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

class DecimalTests {

	private static final Validator VALIDATOR = validator();

	@SuppressWarnings("resource") // the validator lives as long as the tests
	private static Validator validator() {
		return Validation.buildDefaultValidatorFactory().getValidator();
	}

	@ParameterizedTest
	@NullSource
	@ValueSource(strings = { "", "  ", "0", "10", "0.5", "9.99", "10.00", " 3 ", "0,4", "+1", "007" })
	void acceptsWhatIsInTheRangeAndNothingAtAll(@Nullable String text) {
		assertThat(VALIDATOR.validate(new Depth(text))).isEmpty();
	}

	@ParameterizedTest
	@ValueSource(strings = { "-0.01", "10.01", "0.125", "1.000", "x", "1e1", "1.2.3", ".5", "5.", "1 000", "NaN", "٣",
			"1,000" })
	void refusesAnythingElseWithOneMessage(String text) {
		assertThat(VALIDATOR.validate(new Depth(text))).singleElement()
			.extracting("messageTemplate")
			.isEqualTo("{shell.decimal.decimals.unit}");
	}

	@Test
	void asksForAWholeNumberWhereNoDecimalsAreAllowed() {
		assertThat(VALIDATOR.validate(new Count("2.5"))).singleElement()
			.extracting("messageTemplate")
			.isEqualTo("{shell.decimal.whole}");
	}

	@ParameterizedTest
	@CsvSource({ "0.40, 0.40", "'0,4', 0.4", "-3, -3", "\u22123.5, -3.5", "' 12 ', 12", "0012.0, 12.0" })
	void readsANumberWithTheDecimalsThatWereTyped(String text, BigDecimal value) {
		assertThat(DecimalText.value(text)).isEqualTo(value);
	}

	@Test
	void readsNothingAsNothing() {
		assertThat(DecimalText.value(" ")).isNull();
		assertThat(DecimalText.whole(null)).isNull();
	}

	@Test
	void doesNotGuessWhetherACommaParts1000OrOneTenth() {
		assertThatIllegalArgumentException().isThrownBy(() -> DecimalText.value("1,000"));
	}

	record Depth(@Decimal(min = "0", max = "10", fraction = 2, unit = "mm") @Nullable String depthMm) {
	}

	record Count(@Decimal(min = "1", max = "200") @Nullable String points) {
	}

}
