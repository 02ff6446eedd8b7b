package org.seriatim.assessment.domain;

import java.util.List;
import java.util.Optional;

import org.seriatim.patient.PatientId;
import org.springframework.data.repository.Repository;

interface ClassifiedScars extends Repository<ClassifiedScar, ScarStateId> {

	Optional<ClassifiedScar> findById(ScarStateId id);

	List<ClassifiedScar> findByPatient(PatientId patient);

	List<ClassifiedScar> findByPatientAndDay(PatientId patient, AssessmentDay day);

	/** Writes at once, so that the database's own rules speak inside the use case. */
	ClassifiedScar saveAndFlush(ClassifiedScar state);

}
