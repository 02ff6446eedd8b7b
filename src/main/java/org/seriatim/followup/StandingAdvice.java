package org.seriatim.followup;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.patient.PatientId;

/**
 * An advice as it is kept.
 *
 * @param computedAt when it was first computed; it stands from then on
 * @param snapshot number of the snapshot of the clinic's figures that it rests on
 * @param replacedAt when another one took its place; none for the current one
 * @param latestDecision the latest decision after the same session
 * @param changedSince whether that decision was taken on an advice that said something
 * else
 */
public record StandingAdvice(AdviceId id, PatientId patient, Advice advice, Instant computedAt, int snapshot,
		@Nullable Instant replacedAt, @Nullable AdviceDecision latestDecision, boolean changedSince) {

	public boolean isCurrent() {
		return this.replacedAt == null;
	}

	/** The decision that holds; none when the advice has changed since it was taken. */
	public Optional<AdviceDecision> decision() {
		return this.changedSince ? Optional.empty() : Optional.ofNullable(this.latestDecision);
	}

	/** Whether a practitioner's own window holds instead of the advised one. */
	public boolean isOverridden() {
		return decision().filter((decision) -> !decision.accepted()).isPresent();
	}

	/** First day that holds: the practitioner's own where the advice was overridden. */
	public @Nullable LocalDate first() {
		return decision().map(AdviceDecision::first).orElse(this.advice.first());
	}

	/** Last day that holds: the practitioner's own where the advice was overridden. */
	public @Nullable LocalDate last() {
		return decision().map(AdviceDecision::last).orElse(this.advice.last());
	}

}
