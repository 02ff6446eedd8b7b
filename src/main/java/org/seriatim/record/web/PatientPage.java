package org.seriatim.record.web;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.record.web.Doors.Door;
import org.seriatim.record.web.SeriesPage.Fact;

/**
 * A patient: identity and contact, series with the days of their advice, appointments;
 * for those who care for the patient also the skin profile and the open findings.
 *
 * @param entries what may be entered from here
 * @param aboutTheRecord what concerns the record as such: versions, report, hold, erasure
 * @param facts identity and contact; for those who may see it also the skin profile
 * @param alerts what holds treatment; nothing for the front desk
 * @param redFlag whether there is a possible emergency that nobody has closed; for
 * everybody
 * @param findings open ones; none for the front desk, which sees none
 * @param clinical whether the reader may see the clinical record
 * @param emergencyAccess where a reader who may not can open it in an emergency
 */
record PatientPage(String id, String title, String recordNumber, List<Fact> facts, Alerts alerts, boolean redFlag,
		List<Door> entries, List<Door> aboutTheRecord, List<SeriesRow> series, @Nullable String openSeries,
		List<FindingLine> findings, List<AppointmentRow> appointments, boolean clinical,
		@Nullable String emergencyAccess) {

	/**
	 * A series.
	 *
	 * @param href its page, for who may open it
	 * @param goal what it is for, for those who may see it
	 * @param adviceKind kind of the status component; none without advice
	 * @param window first and last day that hold; none on hold
	 */
	record SeriesRow(String name, @Nullable String href, @Nullable String goal, String status, String sessions,
			@Nullable String adviceKind, @Nullable String advice, @Nullable String window, @Nullable String note,
			@Nullable String contact) {
	}

	/**
	 * An open finding.
	 *
	 * @param anchor the row's id
	 */
	record FindingLine(String anchor, String name, @Nullable String href, String noted, String course, boolean redFlag,
			boolean holds) {
	}

	/**
	 * An appointment.
	 *
	 * @param href its page, for who may open it
	 * @param history its versions, for who may see them
	 */
	record AppointmentRow(@Nullable String href, @Nullable String history, String when, String purpose,
			String practitioner, String status, boolean upcoming) {
	}

}
