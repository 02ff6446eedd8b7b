package org.seriatim.treatment;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;

import org.seriatim.patient.PatientId;

/** What was done, for the modules that look back at it. */
public interface TreatmentHistory {

	/** A patient's series by their numbers. */
	List<SeriesSummary> seriesOf(PatientId patient);

	Optional<SeriesSummary> series(SeriesId series);

	/** The open series of all patients. */
	List<SeriesSummary> openSeries();

	/**
	 * All sessions of a patient by their numbers, whatever their series, with
	 * preparations and injections.
	 */
	List<RecordedSession> sessionsOf(PatientId patient);

	/** The same for many patients at once; a patient without sessions has no entry. */
	Map<PatientId, List<RecordedSession>> sessionsOf(Collection<PatientId> patients);

	Optional<RecordedSession> session(SessionId session);

}
