package org.seriatim.finding.domain;

import java.time.LocalDate;
import java.util.Collection;
import java.util.EnumSet;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.FindingCourse;
import org.seriatim.finding.FindingSide;
import org.seriatim.finding.HowReported;
import org.seriatim.finding.NoticedBy;
import org.seriatim.finding.SeriousnessCriterion;

/**
 * What is known of a finding beside what travels in the exchange bundle; {@code null} is
 * unknown.
 *
 * @param onset when it began
 * @param visibility of a lump, 1 slightly palpable and not visible, 2 palpable and
 * slightly visible, 3 easily palpable and clearly visible (Lowe et al., Dermatol Surg
 * 2009;35:344–349); kept beside the grade and never turned into it
 * @param inflammatory of a lump: with pain, heat, redness or swelling
 * @param criteria what makes it serious
 */
public record FindingParticulars(@Nullable Onset onset, @Nullable FindingSide side, @Nullable Integer visibility,
		@Nullable Boolean inflammatory, @Nullable NoticedBy noticedBy, @Nullable HowReported howReported,
		Set<SeriousnessCriterion> criteria, @Nullable FindingCourse course) {

	/** Nothing is known beside what the bundle says. */
	public static final FindingParticulars UNKNOWN = new FindingParticulars(null, null, null, null, null, null,
			Set.of(), null);

	public FindingParticulars {
		criteria = Set.copyOf(criteria);
	}

	/** The criteria in the order in which they are asked. */
	public Collection<SeriousnessCriterion> criteriaInOrder() {
		var ordered = EnumSet.noneOf(SeriousnessCriterion.class);
		ordered.addAll(this.criteria);
		return ordered;
	}

	/**
	 * A day, or between two days.
	 *
	 * @param last the same as the first where the day is known
	 */
	public record Onset(LocalDate first, LocalDate last) {

		public boolean isOneDay() {
			return this.first.equals(this.last);
		}

	}

}
