package org.seriatim.treatment;

import java.time.LocalDate;
import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * A session as far as later decisions look back at it.
 *
 * @param number through the patient's sessions
 * @param painNrs pain of the whole session, 0 to 10
 * @param injections only loaded where somebody looks into them
 */
public record SessionFacts(SessionId id, SeriesId series, int number, LocalDate treatedOn, @Nullable Integer painNrs,
		List<InjectionFacts> injections) {

	public SessionFacts {
		injections = List.copyOf(injections);
	}

}
