package org.seriatim.outcome.domain;

import java.time.LocalDate;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.EmbeddedId;
import jakarta.persistence.Entity;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffId;

/** Somebody looks into a signal: who, what was found, what was done. */
@Entity
@Table(name = "signal_review")
public class SignalReview {

	@EmbeddedId
	@AttributeOverride(name = "value", column = @Column(name = "id"))
	private SignalReviewId id;

	@Embedded
	private Signal signal;

	private LocalDate openedOn;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "opened_by"))
	private @Nullable StaffId openedBy;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "looked_by"))
	private @Nullable StaffId lookedBy;

	private @Nullable LocalDate lookedOn;

	private @Nullable String found;

	private @Nullable String done;

	private boolean ended;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected SignalReview() {
	}

	@SuppressWarnings("NullAway.Init")
	SignalReview(Signal signal, LocalDate openedOn, Recorded recorded) {
		this.id = SignalReviewId.next();
		this.signal = signal;
		this.openedOn = openedOn;
		this.openedBy = recorded.recordedBy();
		this.recorded = recorded;
	}

	void look(Look look, Recorded correction) {
		this.lookedBy = look.by();
		this.lookedOn = look.on();
		this.found = look.found();
		this.done = look.done();
		this.ended = look.ended();
		this.recorded = correction;
	}

	/**
	 * What somebody did with a signal.
	 *
	 * @param ended whether nothing more is to be done
	 */
	public record Look(@Nullable StaffId by, @Nullable LocalDate on, @Nullable String found, @Nullable String done,
			boolean ended) {
	}

	public SignalReviewId id() {
		return this.id;
	}

	public Signal signal() {
		return this.signal;
	}

	public LocalDate openedOn() {
		return this.openedOn;
	}

	public @Nullable StaffId openedBy() {
		return this.openedBy;
	}

	public Look look() {
		return new Look(this.lookedBy, this.lookedOn, this.found, this.done, this.ended);
	}

	public Recorded recorded() {
		return this.recorded;
	}

	public Long version() {
		return this.version;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof SignalReview review && this.id.equals(review.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "SignalReview " + this.id;
	}

}
