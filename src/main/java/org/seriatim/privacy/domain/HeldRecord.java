package org.seriatim.privacy.domain;

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
	 */
	public record Table(String kind, List<String> columns, List<List<@Nullable String>> rows) {
	}

	/** What people of some roles did with the record on one day. */
	public record Opening(String day, String roles, String action, String kind, long times) {
	}

}
