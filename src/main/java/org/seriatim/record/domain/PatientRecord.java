package org.seriatim.record.domain;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.patient.PatientSummary;
import org.seriatim.treatment.SeriesSummary;

/**
 * What a patient's page rests on.
 *
 * @param series by their numbers
 * @param appointments all of them, the latest first
 * @param findings those that are open; empty where the reader may not see them
 */
public record PatientRecord(PatientSummary patient, List<Course> series, List<AppointmentEntry> appointments,
		List<FindingEntry> findings) {

	public PatientRecord {
		series = List.copyOf(series);
		appointments = List.copyOf(appointments);
		findings = List.copyOf(findings);
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
