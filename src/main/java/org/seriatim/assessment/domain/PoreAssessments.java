package org.seriatim.assessment.domain;

import java.util.List;
import java.util.UUID;

import org.seriatim.patient.PatientId;
import org.springframework.data.repository.Repository;

interface PoreAssessments extends Repository<PoreAssessment, UUID> {

	List<PoreAssessment> findByPatientAndDay(PatientId patient, AssessmentDay day);

	List<PoreAssessment> saveAllAndFlush(Iterable<PoreAssessment> assessments);

}
