package org.seriatim.finding.domain;

import java.util.List;
import java.util.Optional;

import org.seriatim.finding.FindingId;
import org.springframework.data.repository.Repository;

interface FindingActions extends Repository<FindingAction, FindingActionId> {

	Optional<FindingAction> findById(FindingActionId id);

	List<FindingAction> findByFindingOrderByDoneOnAscId(FindingId finding);

	/** Writes at once, so that the database's own rules speak inside the use case. */
	FindingAction saveAndFlush(FindingAction action);

}
