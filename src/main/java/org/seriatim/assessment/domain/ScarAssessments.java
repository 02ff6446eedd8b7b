package org.seriatim.assessment.domain;

import java.util.List;
import java.util.UUID;

import org.seriatim.patient.PatientId;
import org.springframework.data.repository.Repository;

interface ScarAssessments extends Repository<ScarAssessment, UUID> {

	List<ScarAssessment> findByPatientAndDay(PatientId patient, AssessmentDay day);

	List<ScarAssessment> saveAllAndFlush(Iterable<ScarAssessment> assessments);

}
