package org.seriatim.finding.web;

import java.time.LocalDate;
import java.util.Objects;
import java.util.Set;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.finding.FindingCourse;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.FindingSide;
import org.seriatim.finding.GradeScale;
import org.seriatim.finding.HowReported;
import org.seriatim.finding.NoticedBy;
import org.seriatim.finding.RedFlagSign;
import org.seriatim.finding.SeriousnessCriterion;
import org.seriatim.finding.domain.Finding;
import org.seriatim.finding.domain.FindingDetails;
import org.seriatim.finding.domain.FindingParticulars;
import org.seriatim.finding.domain.FindingParticulars.Onset;
import org.seriatim.treatment.SessionId;

/**
 * An adverse finding, new or to be corrected.
 *
 * @param signs alarming signs, which open the caution before anything else is looked at
 * @param onsetFirst the day on which it began, or the first of two days between which it
 * did
 * @param onsetLast the second of two days
 * @param reason why it is corrected
 * @param version the version that the form shows
 */
record FindingForm(@Nullable Set<RedFlagSign> signs,
		@NotNull(message = "{finding.kind.missing}") @Nullable FindingKind kind, @Nullable SessionId session,
		@Nullable Region region, @Nullable FindingSide side, @Nullable ScarId scar,
		@NotNull(message = "{finding.first-noted.missing}") @Nullable LocalDate firstNotedOn,
		@Nullable LocalDate onsetFirst, @Nullable LocalDate onsetLast, @Nullable NoticedBy noticedBy,
		@Nullable HowReported howReported,
		@Min(value = 1, message = "{finding.grade.range}") @Max(value = 5,
				message = "{finding.grade.range}") @Nullable Integer grade,
		@Nullable GradeScale gradeScale,
		@Min(value = 1, message = "{finding.visibility.range}") @Max(value = 3,
				message = "{finding.visibility.range}") @Nullable Integer visibility,
		@Nullable Boolean inflammatory, @Nullable Boolean serious, @Nullable Set<SeriousnessCriterion> criteria,
		@Nullable LocalDate goneOn, @Nullable FindingCourse course, @Nullable Boolean histology,
		@Size(max = 2000) @Nullable String note, @Size(max = 500) @Nullable String reason, @Nullable Long version) {

	static FindingForm empty(@Nullable SessionId session, LocalDate today) {
		return new FindingForm(Set.of(), null, session, null, null, null, today, null, null, null, null, null,
				GradeScale.CTCAE_6, null, null, null, Set.of(), null, null, null, null, null, null);
	}

	static FindingForm from(Finding finding) {
		var known = finding.details();
		var more = known.particulars();
		var onset = more.onset();
		return new FindingForm(Set.of(), known.kind(), known.session(), known.region(), more.side(), known.scar(),
				known.firstNotedOn(), (onset != null) ? onset.first() : null,
				(onset != null && !onset.isOneDay()) ? onset.last() : null, more.noticedBy(), more.howReported(),
				known.grade(), (known.gradeScale() != null) ? known.gradeScale() : GradeScale.CTCAE_6,
				more.visibility(), more.inflammatory(), known.serious(), more.criteria(), known.goneOn(), more.course(),
				known.histology(), known.note(), null, finding.version());
	}

	/** What was typed, about a finding that exists by now; its signs have been raised. */
	FindingForm of(Finding finding) {
		return again(finding.version());
	}

	/** What was typed, without the signs, which have been raised. */
	FindingForm again() {
		return again(this.version);
	}

	private FindingForm again(@Nullable Long shown) {
		return new FindingForm(Set.of(), this.kind, this.session, this.region, this.side, this.scar, this.firstNotedOn,
				this.onsetFirst, this.onsetLast, this.noticedBy, this.howReported, this.grade, this.gradeScale,
				this.visibility, this.inflammatory, this.serious, this.criteria, this.goneOn, this.course,
				this.histology, this.note, this.reason, shown);
	}

	/** Whether what was chosen may be an emergency, whatever else is missing. */
	boolean isRedFlag() {
		return this.kind != null && this.kind.isRedFlag();
	}

	boolean isAlarming() {
		return this.signs != null && !this.signs.isEmpty();
	}

	/** The second of two days without the first says nothing. */
	boolean lacksFirstDay() {
		return this.onsetLast != null && this.onsetFirst == null;
	}

	FindingDetails toDetails() {
		return new FindingDetails(this.session, Objects.requireNonNull(this.kind), this.region, this.scar,
				Objects.requireNonNull(this.firstNotedOn), this.grade, this.gradeScale, this.serious, this.goneOn,
				this.histology, this.note,
				new FindingParticulars(onset(), this.side, this.visibility, this.inflammatory, this.noticedBy,
						this.howReported, (this.criteria != null) ? this.criteria : Set.of(), this.course));
	}

	private @Nullable Onset onset() {
		if (this.onsetFirst == null) {
			return null;
		}
		return new Onset(this.onsetFirst, (this.onsetLast != null) ? this.onsetLast : this.onsetFirst);
	}

}
