package org.seriatim.record.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.SeriesStages;
import org.seriatim.finding.RecordedContact;
import org.seriatim.patient.PatientSummary;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.SessionId;

/**
 * Everything on record that a series' page rests on. It is the whole patient's, since a
 * finding of another series holds this one too.
 *
 * @param patientsSeries all series of the patient, in order
 * @param patientsSessions all sessions of the patient, in order
 * @param upcoming appointments that hold their time, the earliest first
 */
public record SeriesRecord(PatientSummary patient, SeriesSummary series, List<SeriesSummary> patientsSeries,
		List<SessionEntry> patientsSessions, List<ScarEntry> scars, List<FindingEntry> findings,
		List<RecordedContact> patientsContacts, List<AppointmentEntry> upcoming, List<PoreEntry> pores,
		List<GlobalEntry> globals, List<CountEntry> counts) {

	public SeriesRecord {
		patientsSeries = List.copyOf(patientsSeries);
		patientsSessions = List.copyOf(patientsSessions);
		scars = List.copyOf(scars);
		findings = List.copyOf(findings);
		patientsContacts = List.copyOf(patientsContacts);
		upcoming = List.copyOf(upcoming);
		pores = List.copyOf(pores);
		globals = List.copyOf(globals);
		counts = List.copyOf(counts);
	}

	/** The sessions of the series itself, in order. */
	public List<SessionEntry> sessions() {
		return this.patientsSessions.stream()
			.filter((session) -> session.session().series().equals(this.series.id()))
			.toList();
	}

	/** The contacts after the sessions of the series, in order. */
	public List<RecordedContact> contacts() {
		var sessions = sessions().stream().map(SessionEntry::id).toList();
		return this.patientsContacts.stream().filter((contact) -> sessions.contains(contact.session())).toList();
	}

	public Optional<SessionEntry> lastSession() {
		var sessions = sessions();
		return sessions.isEmpty() ? Optional.empty() : Optional.of(sessions.get(sessions.size() - 1));
	}

	public Optional<SessionEntry> session(@Nullable SessionId id) {
		return this.patientsSessions.stream().filter((session) -> session.id().equals(id)).findFirst();
	}

	/** The stages of the series; none before its first session. */
	public Optional<SeriesStages> stages() {
		var sessions = sessions();
		return sessions.isEmpty() ? Optional.empty() : Optional
			.of(new SeriesStages(sessions.stream().map(SessionEntry::treatedOn).toList(), nextSeriesOn(sessions)));
	}

	private @Nullable LocalDate nextSeriesOn(List<SessionEntry> sessions) {
		var last = sessions.get(sessions.size() - 1).number();
		return this.patientsSessions.stream()
			.filter((session) -> session.number() > last)
			.map(SessionEntry::treatedOn)
			.findFirst()
			.orElse(null);
	}

}
