package org.seriatim.finding.domain;

import java.util.List;
import java.util.Optional;

import org.seriatim.finding.FindingId;
import org.seriatim.patient.PatientId;
import org.springframework.data.repository.Repository;

interface Findings extends Repository<Finding, FindingId> {

	Optional<Finding> findById(FindingId id);

	List<Finding> findByPatient(PatientId patient);

	/** Writes at once, so that the database's own rules speak inside the use case. */
	Finding saveAndFlush(Finding finding);

}
