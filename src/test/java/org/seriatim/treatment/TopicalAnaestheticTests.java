package org.seriatim.treatment;

import java.math.BigDecimal;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.treatment.TopicalAnaesthetic.Measure;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Expected values from the cream's label (25 mg of lidocaine and 25 mg of prilocaine in
 * each gram) and its UK product information (60 g, 600 cm², 300 min; 1.5 g on 10 cm²).
 */
class TopicalAnaestheticTests {

	@ParameterizedTest
	@CsvSource({ "10, 250", "60, 1500" })
	void holds25MilligramsInEachGram(String grams, String lidocaineMg) {
		assertThat(cream(grams, null, null).lidocaineMg())
			.hasValueSatisfying((mg) -> assertThat(mg).isEqualByComparingTo(lidocaineMg));
	}

	@Test
	void takesItsMassFromAreaAndRate() {
		assertThat(TopicalAnaesthetic.gramsFor(new BigDecimal("200"), new BigDecimal("1.5")))
			.isEqualByComparingTo("30");
	}

	@ParameterizedTest
	@CsvSource({ "30, 200, 60, 0.5", "36, 240, 90, 0.6", "6, 60, 300, 1", "6, 600, 30, 1" })
	void comparesWithTheNearestOfItsLimits(String grams, String areaCm2, int minutes, String fraction) {
		var cream = cream(grams, areaCm2, minutes);
		assertThat(cream.fraction()).hasValueSatisfying((share) -> assertThat(share).isEqualByComparingTo(fraction));
		assertThat(Measure.values()).noneMatch(cream::exceeds);
	}

	@Test
	void exceedsItsAreaAbove600() {
		var cream = cream("55", "650", 90);
		assertThat(Measure.values()).filteredOn(cream::exceeds).containsExactly(Measure.AREA);
		assertThat(cream.coversMuch()).isFalse();
	}

	@ParameterizedTest
	@CsvSource({ "400, false", "400.1, true", "600, true", "600.1, false" })
	void coversMuchFromAbove400UpToItsLimit(String areaCm2, boolean much) {
		assertThat(cream(null, areaCm2, null).coversMuch()).isEqualTo(much);
	}

	@Test
	void isNotExceededByALimitItself() {
		assertThat(Measure.values()).noneMatch(cream("60", "600", 300)::exceeds);
		assertThat(Measure.values()).allMatch(cream("60.1", "600.1", 301)::exceeds);
	}

	@Test
	void isUnknownWhereNothingIsSaid() {
		assertThat(cream(null, null, null).fraction()).isEmpty();
		assertThat(cream(null, null, null).lidocaineMg()).isEmpty();
	}

	private static TopicalAnaesthetic cream(@Nullable String grams, @Nullable String areaCm2,
			@Nullable Integer minutes) {
		return new TopicalAnaesthetic((grams != null) ? new BigDecimal(grams) : null,
				(areaCm2 != null) ? new BigDecimal(areaCm2) : null, minutes);
	}

}
