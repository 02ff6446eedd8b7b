package org.seriatim.record.web;

import java.time.LocalDate;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

class TimeScaleTests {

	private final TimeScale january = new TimeScale(LocalDate.of(2026, 1, 1), LocalDate.of(2026, 1, 21));

	@Test
	void placesADayByItsShareOfTheWidth() {
		assertThat(this.january.at(LocalDate.of(2026, 1, 6))).isEqualTo("25.000%");
		assertThat(this.january.between(LocalDate.of(2026, 1, 6), LocalDate.of(2026, 1, 16))).isEqualTo("50.000%");
	}

	@Test
	void keepsWhatLiesOutsideAtTheEdge() {
		assertThat(this.january.share(LocalDate.of(2025, 12, 1))).isZero();
		assertThat(this.january.share(LocalDate.of(2027, 1, 1))).isEqualTo(100);
		assertThat(this.january.contains(LocalDate.of(2026, 1, 21))).isTrue();
		assertThat(this.january.contains(LocalDate.of(2026, 1, 22))).isFalse();
	}

	@Test
	void namesTheMonthsAndTheirYearsOnce() {
		var scale = new TimeScale(LocalDate.of(2025, 10, 20), LocalDate.of(2026, 2, 3));

		assertThat(scale.months()).extracting(TimeScale.Month::text)
			.containsExactly("Nov 2025", "Dec", "Jan 2026", "Feb");
	}

	@Test
	void namesFewerMonthsOnALongScale() {
		var scale = new TimeScale(LocalDate.of(2024, 1, 1), LocalDate.of(2026, 6, 1));

		assertThat(scale.months()).extracting(TimeScale.Month::text)
			.containsExactly("Jan 2024", "Apr", "Jul", "Oct", "Jan 2025", "Apr", "Jul", "Oct", "Jan 2026", "Apr");
	}

	@Test
	void namesAtMostAMonthAYearOnAVeryLongScale() {
		var scale = new TimeScale(LocalDate.of(2006, 1, 1), LocalDate.of(2026, 6, 1));

		assertThat(scale.months()).hasSizeBetween(5, 13)
			.extracting(TimeScale.Month::text)
			.startsWith("Jan 2006")
			.endsWith("Jan 2026");
	}

	@Test
	void needsAnEndAfterItsBeginning() {
		var day = LocalDate.of(2026, 1, 1);

		assertThatIllegalArgumentException().isThrownBy(() -> new TimeScale(day, day));
	}

}
