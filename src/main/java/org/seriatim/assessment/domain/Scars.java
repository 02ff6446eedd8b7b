package org.seriatim.assessment.domain;

import java.util.Optional;

import org.seriatim.assessment.ScarId;
import org.springframework.data.repository.Repository;

interface Scars extends Repository<Scar, ScarId> {

	Optional<Scar> findById(ScarId id);

	/** Writes at once, so that the database's own rules speak inside the use case. */
	Scar saveAndFlush(Scar scar);

}
