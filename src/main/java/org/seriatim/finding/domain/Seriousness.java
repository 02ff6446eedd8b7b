package org.seriatim.finding.domain;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.SeriousnessCriterion;

/**
 * How grade and seriousness go together: two fields, of which neither follows from the
 * other, but for death (ICH E2A; CTCAE).
 */
public final class Seriousness {

	private static final int SEVERE = 3;

	private static final int LIFE_THREATENING = 4;

	private static final int DEATH = 5;

	private Seriousness() {
	}

	/** What contradicts itself, and cannot be recorded. */
	public enum Contradiction {

		/** Grade 5 is death, which is then a criterion. */
		GRADE_FIVE_WITHOUT_DEATH,
		/** Death is grade 5. */
		DEATH_OF_ANOTHER_GRADE

	}

	/** What can be so, but rarely is; it stays beside the record. */
	public enum Doubt {

		/** Severe, and not a single criterion. */
		GRADE_THREE_WITHOUT_CRITERION,
		/** Life-threatening by its grade, and not by its criteria. */
		GRADE_FOUR_NOT_LIFE_THREATENING

	}

	/** Serious is what meets any criterion. */
	public static boolean isSerious(Collection<SeriousnessCriterion> criteria) {
		return !criteria.isEmpty();
	}

	/**
	 * @param grade 1 to 5
	 */
	public static List<Contradiction> contradictions(@Nullable Integer grade,
			Collection<SeriousnessCriterion> criteria) {
		var death = criteria.contains(SeriousnessCriterion.DEATH);
		var worst = Integer.valueOf(DEATH).equals(grade);
		if (worst == death) {
			return List.of();
		}
		return List.of(worst ? Contradiction.GRADE_FIVE_WITHOUT_DEATH : Contradiction.DEATH_OF_ANOTHER_GRADE);
	}

	/**
	 * @param grade 1 to 5
	 */
	public static List<Doubt> doubts(@Nullable Integer grade, Collection<SeriousnessCriterion> criteria) {
		var doubts = new ArrayList<Doubt>();
		if (Integer.valueOf(SEVERE).equals(grade) && criteria.isEmpty()) {
			doubts.add(Doubt.GRADE_THREE_WITHOUT_CRITERION);
		}
		if (Integer.valueOf(LIFE_THREATENING).equals(grade)
				&& !criteria.contains(SeriousnessCriterion.LIFE_THREATENING)) {
			doubts.add(Doubt.GRADE_FOUR_NOT_LIFE_THREATENING);
		}
		return doubts;
	}

}
