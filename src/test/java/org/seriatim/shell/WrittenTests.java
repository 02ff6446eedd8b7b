package org.seriatim.shell;

import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;

class WrittenTests {

	@Test
	void writesADay() {
		assertThat(Written.day(LocalDate.of(2026, 9, 3))).isEqualTo("3 Sep 2026");
		assertThat(Written.weekday(LocalDate.of(2026, 11, 20))).isEqualTo("Fri 20 Nov 2026");
	}

	@Test
	void writesATimeWhereTheClinicIs() {
		var evening = Instant.parse("2026-11-20T23:05:00Z");
		assertThat(Written.time(evening, ZoneId.of("Europe/Tallinn"))).isEqualTo("21 Nov 2026, 01:05");
	}

	@Test
	void roundsHalfUpAwayFromZero() {
		assertThat(Written.number(0.125, 2)).isEqualTo("0.13");
		assertThat(Written.number(-0.125, 2)).isEqualTo("−0.13");
		assertThat(Written.number(new BigDecimal("2.5"), 0)).isEqualTo("3");
	}

	@Test
	void writesNoNegativeZero() {
		assertThat(Written.number(-0.004, 2)).isEqualTo("0.00");
		assertThat(Written.signed(-0.4, 0)).isEqualTo("0");
	}

	@Test
	void signsAChange() {
		assertThat(Written.signed(4, 1)).isEqualTo("+4.0");
		assertThat(Written.signed(-4, 0)).isEqualTo("−4");
		assertThat(Written.signed(0.04, 1)).isEqualTo("0.0");
	}

}
