package org.seriatim.finding.domain;

import java.util.List;
import java.util.Set;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.seriatim.finding.SeriousnessCriterion;
import org.seriatim.finding.domain.Seriousness.Contradiction;
import org.seriatim.finding.domain.Seriousness.Doubt;

import static org.assertj.core.api.Assertions.assertThat;

/** Check values C092 to C094 of the clinical basis: ICH E2A (S), CTCAE (V). */
class SeriousnessTests {

	/** C092: a grade 2 can be serious. */
	@ParameterizedTest
	@EnumSource
	void isWhatMeetsAnyCriterion(SeriousnessCriterion criterion) {
		assertThat(Seriousness.isSerious(Set.of(criterion))).isTrue();
		assertThat(Seriousness.isSerious(Set.of())).isFalse();
	}

	/** C092 and C093: severity is not seriousness, but grade 3 without any is doubted. */
	@Test
	void isNotSeverity() {
		assertThat(Seriousness.doubts(2, Set.of(SeriousnessCriterion.MEDICALLY_IMPORTANT))).isEmpty();
		assertThat(Seriousness.isSerious(Set.of())).isFalse();
		assertThat(Seriousness.doubts(3, Set.of())).containsExactly(Doubt.GRADE_THREE_WITHOUT_CRITERION);
		assertThat(Seriousness.contradictions(3, Set.of())).isEmpty();
	}

	/** C094: grade 5 needs death, and death grade 5. */
	@Test
	void isGradeFiveIfAndOnlyIfDeath() {
		assertThat(Seriousness.contradictions(5, Set.of())).containsExactly(Contradiction.GRADE_FIVE_WITHOUT_DEATH);
		assertThat(Seriousness.contradictions(5, Set.of(SeriousnessCriterion.DEATH))).isEmpty();
		for (Integer grade : List.of(1, 2, 3, 4)) {
			assertThat(Seriousness.contradictions(grade, Set.of(SeriousnessCriterion.DEATH)))
				.containsExactly(Contradiction.DEATH_OF_ANOTHER_GRADE);
		}
		assertThat(Seriousness.contradictions(null, Set.of(SeriousnessCriterion.DEATH)))
			.containsExactly(Contradiction.DEATH_OF_ANOTHER_GRADE);
		assertThat(Seriousness.contradictions(null, Set.of())).isEmpty();
	}

	/** The clinical basis, 7.3: grade 4 suggests danger to life; warn only. */
	@Test
	void doubtsGradeFourThatDidNotThreatenLife() {
		assertThat(Seriousness.doubts(4, Set.of(SeriousnessCriterion.DISABILITY)))
			.containsExactly(Doubt.GRADE_FOUR_NOT_LIFE_THREATENING);
		assertThat(Seriousness.doubts(4, Set.of(SeriousnessCriterion.LIFE_THREATENING))).isEmpty();
	}

}
