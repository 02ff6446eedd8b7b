package org.seriatim.treatment.domain;

import java.time.Instant;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SeriesId;

/**
 * What somebody typed about a session that nobody has recorded yet.
 *
 * @param content the form as it was typed, as JSON
 * @param savedByPage the page that saved it by itself, {@code null} where somebody kept
 * it
 * @param open whether it is still to be recorded or discarded
 */
public record SessionDraft(DraftId id, PatientId patient, SeriesId series, String content, StaffId writtenBy,
		Instant writtenAt, boolean open, Long version, @Nullable UUID savedByPage) {
}
