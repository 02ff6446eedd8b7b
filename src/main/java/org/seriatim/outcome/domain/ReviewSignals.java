package org.seriatim.outcome.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.finding.FindingKind;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Opens reviews of signals and keeps what came of them. */
@Service
@Transactional
public class ReviewSignals {

	private static final String KIND = "signal_review";

	private final SignalReviews reviews;

	private final CurrentStaff staff;

	private final AuditLog audit;

	private final Clock clock;

	ReviewSignals(SignalReviews reviews, CurrentStaff staff, AuditLog audit, Clock clock) {
		this.reviews = reviews;
		this.staff = staff;
		this.audit = audit;
		this.clock = clock;
	}

	/** Those still open first, the latest first. */
	@Transactional(readOnly = true)
	public List<SignalReview> all() {
		return this.reviews.findAllByOrderByEndedAscOpenedOnDesc();
	}

	@Transactional(readOnly = true)
	public Optional<SignalReview> byId(SignalReviewId id) {
		return this.reviews.findById(id);
	}

	/** The review of this unit and kind that has not ended, if there is one. */
	@Transactional(readOnly = true)
	public Optional<SignalReview> openOne(Signal.Chart chart, FindingKind kind, Signal.Unit unit,
			@Nullable String value) {
		return all().stream()
			.filter((review) -> !review.look().ended() && review.signal().chart() == chart
					&& review.signal().kind() == kind && review.signal().unit() == unit
					&& Objects.equals(value(review.signal()), value))
			.findFirst();
	}

	private static @Nullable String value(Signal signal) {
		return (signal.practitioner() != null) ? signal.practitioner().toString() : signal.lot();
	}

	/** Opens a review, or answers with the one that is open. */
	public SignalReviewId open(Signal signal) {
		var open = openOne(signal.chart(), signal.kind(), signal.unit(), value(signal));
		if (open.isPresent()) {
			return open.get().id();
		}
		var review = new SignalReview(signal, LocalDate.now(this.clock),
				Recorded.first(this.clock.instant(), this.staff));
		this.reviews.saveAndFlush(review);
		this.audit.record(AuditLog.Action.CREATED, KIND, review.id().value(), null);
		return review.id();
	}

	/** Writes down what somebody found and did. */
	public void look(SignalReviewId id, SignalReview.Look look, String reason) {
		var review = this.reviews.findById(id).orElseThrow();
		review.look(look, Recorded.correction(this.clock.instant(), this.staff, reason));
		this.reviews.saveAndFlush(review);
		this.audit.record(AuditLog.Action.CORRECTED, KIND, id.value(), null);
	}

}
