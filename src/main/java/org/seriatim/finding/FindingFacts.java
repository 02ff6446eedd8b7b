package org.seriatim.finding;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.treatment.SessionId;

/**
 * An adverse finding as far as durations and advice look at it.
 *
 * @param session the session that it is counted from, if it belongs to one
 * @param scarLabel label of the scar that it lies in, if any
 * @param grade 1 to 5
 * @param goneOn the patient's own date of disappearance
 * @param closedOn day on which a practitioner closed it
 * @param observations in any order
 */
public record FindingFacts(FindingId id, @Nullable SessionId session, FindingKind kind, @Nullable Region region,
		@Nullable ScarId scar, @Nullable String scarLabel, LocalDate firstNotedOn, @Nullable Integer grade,
		boolean serious, @Nullable LocalDate goneOn, @Nullable LocalDate closedOn,
		List<ObservationFacts> observations) {

	/** From this grade on (severe) a finding holds treatment, whatever its kind. */
	private static final int SEVERE = 3;

	public FindingFacts {
		observations = List.copyOf(observations);
	}

	public boolean isLump() {
		return this.kind == FindingKind.LUMP;
	}

	/**
	 * Whether treatment must wait until a practitioner has closed it: a red flag, a kind
	 * that holds, grade 3 or more, or serious.
	 */
	public boolean holdsTreatment() {
		return this.closedOn == null
				&& (this.kind.holdsTreatment() || this.serious || (this.grade != null && this.grade >= SEVERE));
	}

	/**
	 * Whether nobody has seen it absent since it was last seen; present and absent on one
	 * day is present.
	 */
	public boolean isLastKnownPresent() {
		return this.observations.stream()
			.max(Comparator.comparing(ObservationFacts::observedOn).thenComparing(ObservationFacts::present))
			.map(ObservationFacts::present)
			.orElse(true);
	}

	/**
	 * The same finding as it was known on a day: without observations, a disappearance or
	 * a closing dated later.
	 */
	public FindingFacts asOf(LocalDate day) {
		return new FindingFacts(this.id, this.session, this.kind, this.region, this.scar, this.scarLabel,
				this.firstNotedOn, this.grade, this.serious, noLater(this.goneOn, day), noLater(this.closedOn, day),
				this.observations.stream().filter((seen) -> !seen.observedOn().isAfter(day)).toList());
	}

	private static @Nullable LocalDate noLater(@Nullable LocalDate date, LocalDate day) {
		return (date == null || date.isAfter(day)) ? null : date;
	}

}
