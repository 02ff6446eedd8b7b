package org.seriatim.treatment.domain;

import java.util.List;
import java.util.function.Function;
import java.util.stream.Collectors;

import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.screening.ScreeningRecords;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.TreatmentHistory;
import org.seriatim.treatment.domain.UsualPractice.Unusual;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Reviews a session against what else is on the patient's record. */
@Service
@Transactional(readOnly = true)
public class ReviewSession {

	private final TreatmentHistory history;

	private final TrackedScars scars;

	private final PatientDirectory patients;

	private final UsualPractices practices;

	private final ScreeningRecords screening;

	ReviewSession(TreatmentHistory history, TrackedScars scars, PatientDirectory patients, UsualPractices practices,
			ScreeningRecords screening) {
		this.screening = screening;
		this.history = history;
		this.scars = scars;
		this.patients = patients;
		this.practices = practices;
	}

	/** The review of a session as it is on record, or as it would be. */
	public SessionReview of(RecordedSession session) {
		var others = this.history.sessionsOf(session.patient())
			.stream()
			.filter((other) -> !other.id().equals(session.id()))
			.toList();
		var scars = this.scars.of(session.patient())
			.stream()
			.collect(Collectors.toMap(TrackedScar::id, Function.identity()));
		return SessionReview.of(session, others, this.patients.requireExisting(session.patient()).birthDate(), scars,
				this.screening.weightsOf(session.patient()));
	}

	/** What of it lies outside the clinic's usual ranges of the day of the session. */
	public List<Unusual> unusualIn(RecordedSession session) {
		return this.practices.inForceOn(session.treatedOn()).unusualIn(session);
	}

}
