package org.seriatim.outcome.domain;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;

/**
 * Which lumps are asked about.
 *
 * @param from first day of the sessions, none for no limit
 * @param to last day of the sessions, none for no limit
 */
public record LumpQuestion(LumpGrouping grouping, @Nullable LocalDate from, @Nullable LocalDate to) {

	boolean covers(LocalDate treatedOn) {
		return (this.from == null || !treatedOn.isBefore(this.from))
				&& (this.to == null || !treatedOn.isAfter(this.to));
	}

}
