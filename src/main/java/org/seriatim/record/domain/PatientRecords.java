package org.seriatim.record.domain;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;

import org.seriatim.finding.PatientFindings;
import org.seriatim.finding.RecordedFinding;
import org.seriatim.finding.RedFlags;
import org.seriatim.followup.CurrentAdvice;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Opens a patient before a person. */
@Component
public class PatientRecords {

	private final JdbcClient database;

	private final PatientDirectory patients;

	private final TreatmentHistory treatment;

	private final PatientFindings findings;

	private final RedFlags redFlags;

	private final CurrentAdvice advice;

	PatientRecords(JdbcClient database, PatientDirectory patients, TreatmentHistory treatment, PatientFindings findings,
			RedFlags redFlags, CurrentAdvice advice) {
		this.database = database;
		this.patients = patients;
		this.treatment = treatment;
		this.findings = findings;
		this.redFlags = redFlags;
		this.advice = advice;
	}

	/**
	 * The record of a patient, whose opening is in the audit log from now on.
	 * @param clinical whether the reader may see findings
	 */
	@Transactional
	public PatientRecord open(PatientId id, boolean clinical) {
		var patient = this.patients.open(id);
		var sessions = this.treatment.sessionsOf(id);
		var ofSeries = sessions.stream().collect(Collectors.groupingBy(RecordedSession::series, Collectors.counting()));
		return new PatientRecord(patient,
				this.treatment.seriesOf(id).stream().map((series) -> course(series, ofSeries)).toList(),
				appointments(id),
				sessions.stream()
					.max(Comparator.comparing(RecordedSession::number))
					.map(RecordedSession::id)
					.orElse(null),
				clinical ? openFindings(id, sessions) : List.of(), this.redFlags.openOf(id));
	}

	private PatientRecord.Course course(SeriesSummary series, Map<SeriesId, Long> sessions) {
		return new PatientRecord.Course(series, sessions.getOrDefault(series.id(), 0L).intValue(),
				series.isOpen() ? this.advice.of(series.id()).orElse(null) : null);
	}

	private List<AppointmentEntry> appointments(PatientId patient) {
		return this.database.sql("""
				select a.id, p.name as practitioner, a.starts_at, a.purpose, a.status
				from appointment a join staff p on p.id = a.practitioner_id
				where a.patient_id = :patient
				order by a.starts_at desc""")
			.param("patient", patient.value())
			.query(SeriesRecords::appointment)
			.list();
	}

	private List<FindingEntry> openFindings(PatientId patient, List<RecordedSession> sessions) {
		Map<SessionId, RecordedSession> byId = sessions.stream()
			.collect(Collectors.toMap(RecordedSession::id, (session) -> session));
		return this.findings.of(patient).stream().filter(RecordedFinding::isOpen).map((finding) -> {
			var session = (finding.session() != null) ? byId.get(finding.session()) : null;
			return new FindingEntry(finding, (session != null) ? new SessionEntry(session, "") : null, null);
		}).toList();
	}

}
