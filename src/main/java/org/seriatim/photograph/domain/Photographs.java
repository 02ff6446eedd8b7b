package org.seriatim.photograph.domain;

import java.util.List;
import java.util.Optional;

import org.seriatim.patient.PatientId;
import org.seriatim.photograph.PhotographId;
import org.springframework.data.repository.Repository;

interface Photographs extends Repository<Photograph, PhotographId> {

	Optional<Photograph> findById(PhotographId id);

	List<Photograph> findByPatient(PatientId patient);

	Optional<Photograph> findByPatientAndSourceAndSetAsideFalse(PatientId patient, byte[] source);

	/** Writes at once, so that the database's own rules speak inside the use case. */
	Photograph saveAndFlush(Photograph photograph);

}
