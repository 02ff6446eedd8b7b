package org.seriatim.photograph.domain;

import java.util.List;
import java.util.Optional;

import org.seriatim.patient.PatientId;
import org.seriatim.photograph.Purpose;
import org.springframework.data.repository.Repository;

interface Consents extends Repository<Consent, ConsentId> {

	Optional<Consent> findById(ConsentId id);

	List<Consent> findByPatientOrderByGivenOnDesc(PatientId patient);

	boolean existsByPatientAndPurposeAndWithdrawnOnIsNull(PatientId patient, Purpose purpose);

	/** Writes at once, so that the database's own rules speak inside the use case. */
	Consent saveAndFlush(Consent consent);

}
