package org.seriatim.assessment.domain;

import java.util.List;
import java.util.UUID;

import org.seriatim.patient.PatientId;
import org.springframework.data.repository.Repository;

interface ScarCounts extends Repository<ScarCount, UUID> {

	List<ScarCount> findByPatientAndDay(PatientId patient, AssessmentDay day);

	List<ScarCount> saveAllAndFlush(Iterable<ScarCount> counts);

}
