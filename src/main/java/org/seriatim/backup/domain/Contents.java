package org.seriatim.backup.domain;

import java.time.Instant;
import java.util.SortedMap;

/**
 * What a backup that was read to its end and found whole holds.
 *
 * @param madeAt the moment of which it holds the records
 * @param step the step of the schema
 * @param tables by name
 * @param files how many
 * @param fileBytes how large together
 */
public record Contents(Instant madeAt, String step, SortedMap<String, TableContent> tables, long files,
		long fileBytes) {

	public long rows() {
		return this.tables.values().stream().mapToLong(TableContent::rows).sum();
	}

}
