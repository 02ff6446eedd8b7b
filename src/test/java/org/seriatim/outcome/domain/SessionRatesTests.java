package org.seriatim.outcome.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;

import org.junit.jupiter.api.Test;
import org.seriatim.finding.FindingKind;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

class SessionRatesTests {

	private static final LocalDate DAY = LocalDate.of(2026, 1, 1);

	/**
	 * Three patients with 2, 2 and 4 sessions, 2, 0 and 0 of them with a bruise: p = 1/4;
	 * deviations x - n p are 1.5, -0.5 and -1, their squares sum to 3.5; v = 3/2 * 3.5 /
	 * 64 = 0.08203125; p (1 - p) / 8 = 0.0234375; the design effect is 3.5.
	 */
	@Test
	void designEffectIsThatOfTheRatioEstimate() {
		var row = rates().rows().get(0);
		assertThat(row.rate()).isEqualTo(0.25);
		assertThat(row.designEffect()).hasValueCloseTo(3.5, within(1e-12));
		assertThat(row.patientsWithFinding()).isEqualTo(1);
		assertThat(row.patientRate()).isCloseTo(1 / 3.0, within(1e-12));
		assertThat(row.unresolved()).isEqualTo(1);
		assertThat(row.unobserved()).isEqualTo(3);
	}

	/** 8 sessions at a design effect of 3.5 are worth 2.28, so 2 in whole ones. */
	@Test
	void aFunnelCountsEffectiveSessions() {
		var clinic = rates().rows().get(0);
		var funnel = Funnel.of(clinic, List.of(clinic));
		assertThat(funnel.points().get(0).effectiveSize()).isEqualTo(2);
		assertThat(funnel.points().get(0).place()).isEqualTo(Funnel.Place.WITHIN);
		assertThat(funnel.dispersion()).isEmpty();
	}

	@Test
	void onePatientHasNoClusteredLimits() {
		var row = SessionRates
			.of(List.of(new SessionRates.Followed("all", "a", 3, 0)), List.of(), List.of(FindingKind.BURN))
			.rows()
			.get(0);
		assertThat(row.limits()).isNull();
		assertThat(row.designEffect()).isEmpty();
		assertThat(row.wilson().low()).isZero();
	}

	/**
	 * Findings in sessions 3, 5 and 9 of 12 at a rate of 1/4: too frequent for gaps. With
	 * 100 sessions the rate is 3 %, the gaps are 1 and 3, their mean is 2, and 91
	 * sessions have passed since.
	 */
	@Test
	void gapsAreCountedBetweenRareFindings() {
		assertThat(Surveillance.of(treated(12), 1000).gaps()).isNull();
		var gaps = Surveillance.of(treated(100), 1000).gaps();
		assertThat(gaps.chart().centre()).isEqualTo(2);
		assertThat(gaps.since()).isEqualTo(91);
	}

	/**
	 * A practitioner whose every session has the finding must be noticed, and one without
	 * any must not.
	 */
	@Test
	void aChartSignalsWhereTheFindingFollowsEverySession() {
		var treated = new ArrayList<Surveillance.Treated>();
		for (int i = 0; i < 400; i++) {
			treated.add(new Surveillance.Treated((i % 10 == 0) ? "often" : "never", DAY.plusDays(i), i % 10 == 0));
		}
		var charts = Surveillance.of(treated, 1000)
			.charts()
			.stream()
			.collect(java.util.stream.Collectors.toMap(Surveillance.Chart::unit, (chart) -> chart));
		assertThat(charts.get("often").signalDays()).isNotEmpty();
		assertThat(charts.get("never").signalDays()).isEmpty();
		assertThat(charts).containsKey(Surveillance.CLINIC);
		assertThat(charts).hasSize(3);
	}

	private static List<Surveillance.Treated> treated(int sessions) {
		var treated = new ArrayList<Surveillance.Treated>();
		for (int i = 1; i <= sessions; i++) {
			treated.add(new Surveillance.Treated("one", DAY.plusDays(i), i == 3 || i == 5 || i == 9));
		}
		return treated;
	}

	private static SessionRates rates() {
		return SessionRates.of(
				List.of(new SessionRates.Followed("all", "a", 2, 0), new SessionRates.Followed("all", "b", 2, 1),
						new SessionRates.Followed("all", "c", 4, 2)),
				List.of(new SessionRates.Found("all", "a", FindingKind.BRUISE, 2, 2, 1)), List.of());
	}

}
