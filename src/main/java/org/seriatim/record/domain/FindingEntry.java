package org.seriatim.record.domain;

import java.time.LocalDate;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.LumpDuration;
import org.seriatim.finding.RecordedFinding;
import org.seriatim.finding.RecordedObservation;

/**
 * An adverse finding with what follows from it.
 *
 * @param session the session that it is counted from, if it belongs to one
 * @param closedBy who closed it, if it is closed
 */
public record FindingEntry(RecordedFinding finding, @Nullable SessionEntry session, @Nullable String closedBy) {

	public boolean isLump() {
		return this.finding.facts().isLump();
	}

	public boolean holdsTreatment() {
		return this.finding.facts().holdsTreatment();
	}

	/** How long it lasted, if it is a lump of a session. */
	public Optional<LumpDuration> duration() {
		return (this.session != null && isLump())
				? Optional.of(LumpDuration.of(this.finding.facts(), this.session.treatedOn())) : Optional.empty();
	}

	/** Whether somebody saw it gone, or the patient told when it went. */
	public boolean isSeenGone() {
		return duration().map(LumpDuration::isSeenGone)
			.orElseGet(() -> seenAbsentOn().isPresent()
					|| (this.finding.goneOn() != null && this.finding.goneOn().isAfter(lastSeenPresent())));
	}

	/** What was last seen of it. */
	public Optional<RecordedObservation> lastObservation() {
		var observations = this.finding.observations();
		return observations.isEmpty() ? Optional.empty() : Optional.of(observations.get(observations.size() - 1));
	}

	/** The last day on which it was seen present, its first day included. */
	public LocalDate lastSeenPresent() {
		return this.finding.observations()
			.stream()
			.filter(RecordedObservation::present)
			.map(RecordedObservation::observedOn)
			.filter((day) -> day.isAfter(this.finding.firstNotedOn()))
			.max(LocalDate::compareTo)
			.orElse(this.finding.firstNotedOn());
	}

	/** The first day after that on which it was seen absent. */
	public Optional<LocalDate> seenAbsentOn() {
		var present = lastSeenPresent();
		return this.finding.observations()
			.stream()
			.filter((seen) -> !seen.present())
			.map(RecordedObservation::observedOn)
			.filter((day) -> day.isAfter(present))
			.min(LocalDate::compareTo);
	}

}
