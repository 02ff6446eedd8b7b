package org.seriatim.record.domain;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.finding.RaisedRedFlag;
import org.seriatim.patient.PatientSummary;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.SeriesSummary;

/**
 * What a patient's page rests on.
 *
 * @param series by their numbers
 * @param appointments all of them, the latest first
 * @param lastSession the one that a contact follows now, if there is any
 * @param findings those that are open; empty where the reader may not see them
 * @param redFlags possible emergencies that nobody has closed, without what they are
 */
public record PatientRecord(PatientSummary patient, List<Course> series, List<AppointmentEntry> appointments,
		@Nullable SessionId lastSession, List<FindingEntry> findings, List<RaisedRedFlag> redFlags) {

	public PatientRecord {
		series = List.copyOf(series);
		appointments = List.copyOf(appointments);
		findings = List.copyOf(findings);
		redFlags = List.copyOf(redFlags);
	}

	/**
	 * A series with where it stands.
	 *
	 * @param sessions number of its sessions
	 * @param advice the current advice on it, if there is one
	 */
	public record Course(SeriesSummary series, int sessions, @Nullable StandingAdvice advice) {
	}

}
