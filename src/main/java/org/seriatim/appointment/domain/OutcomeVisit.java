package org.seriatim.appointment.domain;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.Optional;

import org.seriatim.patient.PatientId;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * The visit at which the outcome of an ended series is looked at: 84 days or more after
 * its last session ({@code docs/clinical.md} has the source).
 */
@Service
@Transactional(readOnly = true)
public class OutcomeVisit {

	/** Days after the last session. */
	static final int DAYS = 84;

	private final TreatmentHistory treatment;

	OutcomeVisit(TreatmentHistory treatment) {
		this.treatment = treatment;
	}

	/** The first day for the outcome of the patient's latest series, if it has ended. */
	public Optional<LocalDate> dueOf(PatientId patient) {
		var last = this.treatment.sessionsOf(patient).stream().max(Comparator.comparing(RecordedSession::number));
		return last
			.filter((session) -> this.treatment.seriesOf(patient)
				.stream()
				.anyMatch((series) -> series.id().equals(session.series()) && !series.isOpen()))
			.map((session) -> session.treatedOn().plusDays(DAYS));
	}

}
