package org.seriatim.outcome.domain;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarType;
import org.seriatim.treatment.Combination;

/**
 * What a page of the clinic's figures is limited to; what is {@code null} is not limited.
 *
 * @param from first day of the sessions
 * @param to last day of the sessions
 * @param practitioner who treated
 * @param product that a preparation of the session was made of
 * @param lot that a preparation of the session was made of
 * @param region where was injected, where a scar or a finding lies
 * @param phototype of the patient, 1 to 6
 * @param scarType of the scars, or of a scar that was injected
 * @param combination with radiofrequency
 */
public record OutcomeFilter(@Nullable LocalDate from, @Nullable LocalDate to, @Nullable StaffId practitioner,
		@Nullable String product, @Nullable String lot, @Nullable Region region, @Nullable Integer phototype,
		@Nullable ScarType scarType, @Nullable Combination combination) {

	/** Everything on record. */
	public static final OutcomeFilter NONE = new OutcomeFilter(null, null, null, null, null, null, null, null, null);

	/** The same between two days. */
	public OutcomeFilter between(@Nullable LocalDate first, @Nullable LocalDate last) {
		return new OutcomeFilter(first, last, this.practitioner, this.product, this.lot, this.region, this.phototype,
				this.scarType, this.combination);
	}

}
