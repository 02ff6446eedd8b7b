package org.seriatim.outcome.domain;

import java.util.List;
import java.util.Optional;

import org.springframework.data.repository.Repository;

interface SignalReviews extends Repository<SignalReview, SignalReviewId> {

	Optional<SignalReview> findById(SignalReviewId id);

	List<SignalReview> findAllByOrderByEndedAscOpenedOnDesc();

	/** Writes at once, so that the database's own rules speak inside the use case. */
	SignalReview saveAndFlush(SignalReview review);

}
