package org.seriatim.treatment;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.Region;
import org.seriatim.patient.PatientId;

import static org.assertj.core.api.Assertions.assertThat;

class RecordedSessionTests {

	@Test
	void balancesEachPreparationWithItsOwnInjections() {
		var first = preparation(1, "4.0", "0.5", "0.5", "2", "0.40");
		var second = preparation(2, "1.0", "0", "0", "2", "0");
		var session = session(List.of(first, second),
				List.of(injection(1, first, "4.0"), injection(2, first, "0.6"), injection(3, second, "0.9")));
		assertThat(session.balanceOf(first)).hasValueSatisfying((balance) -> {
			assertThat(balance.preparedMl()).isEqualByComparingTo("5.0");
			assertThat(balance.addsUp()).isTrue();
		});
		assertThat(session.balanceOf(second))
			.hasValueSatisfying((balance) -> assertThat(balance.differenceMl()).isEqualByComparingTo("0.1"));
		assertThat(session.preparationsThatDoNotAddUp()).containsExactly(second);
	}

	@Test
	void doesNotJudgeWhatIsNotOnRecord() {
		var withoutDiscarded = preparation(1, "4.0", "0.5", "0.5", "2", null);
		assertThat(session(List.of(withoutDiscarded), List.of(injection(1, withoutDiscarded, "9")))
			.balanceOf(withoutDiscarded)).isEmpty();
		var whole = preparation(1, "4.0", "0.5", "0.5", "2", "0");
		assertThat(session(List.of(whole), List.of(injection(1, whole, null))).balanceOf(whole)).isEmpty();
		assertThat(session(List.of(whole), List.of(injection(1, whole, "5"), injection(2, null, "1"))).balanceOf(whole))
			.as("an injection of unknown source")
			.isEmpty();
	}

	@Test
	void balancesARemainderBelowZero() {
		var preparation = preparation(1, "-0.2", "0", "0.5", "2", "0.1");
		assertThat(session(List.of(preparation), List.of(injection(1, preparation, "0.2"))).balanceOf(preparation))
			.hasValueSatisfying((balance) -> assertThat(balance.addsUp()).isTrue());
		assertThat(preparation.mixture()).isEmpty();
		assertThat(preparation.lidocaineMgPerMl()).isEmpty();
	}

	@Test
	void sumsTheLidocaineThatWasGiven() {
		// 20 mg in 5 mL, so 4 mg/mL; and 10 mg in 2 mL, so 5 mg/mL
		var first = preparation(1, "4.0", "0", "1.0", "2", "0");
		var second = preparation(2, "1.0", "0", "1.0", "1", "0");
		assertThat(session(List.of(first, second), List.of(injection(1, first, "2.5"), injection(2, second, "0.4")))
			.lidocaineGivenMg()).hasValueSatisfying((given) -> assertThat(given).isEqualByComparingTo("12"));
	}

	@Test
	void knowsThatNoLidocaineWasGiven() {
		var plain = preparation(1, "4.0", "0", "0", null, "0");
		assertThat(session(List.of(plain), List.of(injection(1, plain, "2.5"))).lidocaineGivenMg())
			.hasValueSatisfying((given) -> assertThat(given).isZero());
	}

	@Test
	void doesNotSumWhatIsNotOnRecord() {
		var unknown = preparation(1, "4.0", "0", null, "2", "0");
		assertThat(session(List.of(unknown), List.of(injection(1, unknown, "2.5"))).lidocaineGivenMg()).isEmpty();
		var known = preparation(1, "4.0", "0", "1", "2", "0");
		assertThat(session(List.of(known), List.of(injection(1, null, "2.5"))).lidocaineGivenMg()).isEmpty();
		assertThat(session(List.of(known), List.of(injection(1, known, null))).lidocaineGivenMg()).isEmpty();
	}

	@Test
	void isExpiredAfterTheDayOfExpiry() {
		var preparation = preparation(1, "4.0", "0", "0", null, "0");
		assertThat(preparation.hadExpiredOn(LocalDate.parse("2027-01-31"))).isFalse();
		assertThat(preparation.hadExpiredOn(LocalDate.parse("2027-02-01"))).isTrue();
	}

	private static RecordedSession session(List<RecordedPreparation> preparations, List<RecordedInjection> injections) {
		return new RecordedSession(SessionId.next(), PatientId.next(), SeriesId.next(), 1,
				LocalDate.parse("2026-11-20"), new StaffId(UUID.randomUUID()), null, null, null, null, null, null, null,
				null, preparations, injections);
	}

	private static RecordedPreparation preparation(int number, String drawn, String added, @Nullable String lidocaine,
			@Nullable String percent, @Nullable String discarded) {
		return new RecordedPreparation(PreparationId.next(), number, "biostimulator A", "L1",
				LocalDate.parse("2027-01-31"), new BigDecimal("150"), new BigDecimal("5"), new BigDecimal(drawn),
				new BigDecimal(added), decimal(percent), decimal(lidocaine), decimal(discarded));
	}

	private static RecordedInjection injection(int number, @Nullable RecordedPreparation preparation,
			@Nullable String volume) {
		return new RecordedInjection(number, (preparation != null) ? preparation.id() : null, Region.FOREHEAD, null,
				Target.PORES, null, null, decimal(volume), null, null,
				new RecordedInjection.Endpoints(null, null, null, null, null), null);
	}

	private static @Nullable BigDecimal decimal(@Nullable String value) {
		return (value != null) ? new BigDecimal(value) : null;
	}

}
