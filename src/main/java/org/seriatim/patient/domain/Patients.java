package org.seriatim.patient.domain;

import java.util.Optional;

import org.seriatim.patient.PatientId;
import org.springframework.data.repository.Repository;

interface Patients extends Repository<Patient, PatientId> {

	Optional<Patient> findById(PatientId id);

	/** Writes at once, so that the database's own rules speak inside the use case. */
	Patient saveAndFlush(Patient patient);

}
