package org.seriatim.treatment.domain;

import jakarta.persistence.Embeddable;
import org.jspecify.annotations.Nullable;

/**
 * What a series is for.
 *
 * @param plannedSessions 1 to 99
 */
@Embeddable
public record SeriesPlan(@Nullable String goal, @Nullable Integer plannedSessions) {

	static final SeriesPlan NONE = new SeriesPlan(null, null);

	public SeriesPlan {
		if (plannedSessions != null && (plannedSessions < 1 || plannedSessions > 99)) {
			throw new IllegalArgumentException("plannedSessions must be from 1 to 99, was " + plannedSessions);
		}
	}

}
