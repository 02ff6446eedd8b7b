package org.seriatim.treatment;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.patient.PatientId;

/**
 * A series without its sessions.
 *
 * @param number through the patient's series
 * @param protocol number of the protocol version that governs it
 */
public record SeriesSummary(SeriesId id, PatientId patient, int number, @Nullable String goal,
		@Nullable Integer plannedSessions, SeriesStatus status, @Nullable LocalDate endedOn, @Nullable String reason,
		int protocol) {

	public boolean isOpen() {
		return this.status == SeriesStatus.OPEN;
	}

}
