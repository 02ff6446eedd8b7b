package org.seriatim.finding.domain;

import java.util.List;
import java.util.Optional;

import org.seriatim.finding.FindingId;
import org.springframework.data.repository.Repository;

interface Observations extends Repository<Observation, ObservationId> {

	Optional<Observation> findById(ObservationId id);

	List<Observation> findByFindingOrderByObservedOnAscId(FindingId finding);

	/** Writes at once, so that the database's own rules speak inside the use case. */
	Observation saveAndFlush(Observation observation);

}
