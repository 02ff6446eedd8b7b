package org.seriatim.finding;

import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.treatment.SessionId;

/**
 * What a patient told of the time after a session; what was not answered is {@code null}.
 *
 * @param where the regions of the lumps, if any were named
 * @param painNrs 0 to 10
 * @param note in words
 */
public record PatientReport(SessionId session, @Nullable Lumps lumps, Set<Region> where, @Nullable Integer painNrs,
		@Nullable String note) {

	public PatientReport {
		where = Set.copyOf(where);
		if (painNrs != null && (painNrs < 0 || painNrs > 10)) {
			throw new IllegalArgumentException("painNrs must be 0 to 10, was " + painNrs);
		}
	}

	/** Whether there is any lump. */
	public enum Lumps {

		PRESENT, ABSENT, UNSURE

	}

}
