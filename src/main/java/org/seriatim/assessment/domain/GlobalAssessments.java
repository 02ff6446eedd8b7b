package org.seriatim.assessment.domain;

import java.util.List;
import java.util.UUID;

import org.seriatim.patient.PatientId;
import org.springframework.data.repository.Repository;

interface GlobalAssessments extends Repository<GlobalAssessment, UUID> {

	List<GlobalAssessment> findByPatientAndDay(PatientId patient, AssessmentDay day);

	List<GlobalAssessment> saveAllAndFlush(Iterable<GlobalAssessment> assessments);

}
