package org.seriatim.privacy.domain;

import java.time.LocalDate;
import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * Everything that is held about a patient, table by table.
 *
 * @param openings who opened or wrote the record, by day
 */
public record HeldRecord(List<Table> tables, List<Opening> openings) {

	/**
	 * One kind of entry; columns in which nothing was ever entered are left out.
	 *
	 * @param kind the kind's word, which the page has a heading for
	 * @param rows their values: days, times, truths, numbers and texts
	 */
	public record Table(String kind, List<String> columns, List<List<@Nullable Object>> rows) {
	}

	/**
	 * What people of some roles did with the record on one day.
	 *
	 * @param roles words of the roles; none for the service itself, and for who has none
	 * any more
	 */
	public record Opening(LocalDate day, List<String> roles, String action, String kind, long times) {
	}

}
