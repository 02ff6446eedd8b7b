package org.seriatim.outcome.domain;

import java.util.ArrayList;
import java.util.List;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

class RatingAgreementTests {

	/**
	 * Ten pairs of grades: five times (0, 0), four times (4, 4) and once (0, 4). By
	 * quadratic weights the disagreement counts fully: p_o = 0.9; margins 0.6 and 0.4
	 * against 0.5 and 0.5, so p_e = 0.5 and kappa = 0.8.
	 */
	@Test
	void kappaWeighsDistantGradesMore() {
		var pairs = new ArrayList<RatingAgreement.GradePair>();
		for (int i = 0; i < 10; i++) {
			pairs.add(new RatingAgreement.GradePair(RatingAgreement.Raters.BETWEEN, "p" + i, "severity",
					(i < 6) ? 0 : 4, (i < 5) ? 0 : 4));
		}
		var kappa = RatingAgreement.of(List.of(), pairs).grades().get(0);
		assertThat(kappa.same()).hasValueCloseTo(0.9, within(1e-12));
		assertThat(kappa.kappa()).hasValueCloseTo(0.8, within(1e-12));
		assertThat(kappa.limits()).isNotNull();
	}

	@Test
	void fewPairsAreCountedOnly() {
		var agreement = RatingAgreement.of(List.of(),
				List.of(new RatingAgreement.GradePair(RatingAgreement.Raters.WITHIN, "p", "pores", 1, 2)));
		assertThat(agreement.grades().get(0).pairs()).isEqualTo(1);
		assertThat(agreement.grades().get(0).kappa()).isEmpty();
		assertThat(agreement.depths()).allSatisfy((row) -> assertThat(row.icc()).isEmpty());
		assertThat(agreement.error().between()).isNull();
	}

}
