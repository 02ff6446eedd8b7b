package org.seriatim.statistics;

import java.util.List;

/**
 * The durations of one patient, who is the unit that a bootstrap draws.
 *
 * @param patient opaque identifier; patients are sorted by it before resampling, so that
 * the order in which they are supplied does not matter
 * @param durations all durations of this patient, at least one
 */
public record PatientDurations(String patient, List<DurationInterval> durations) {

	public PatientDurations {
		durations = List.copyOf(durations);
		if (durations.isEmpty()) {
			throw new IllegalArgumentException("durations of a patient must not be empty");
		}
	}

}
