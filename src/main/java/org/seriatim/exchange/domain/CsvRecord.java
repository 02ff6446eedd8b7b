package org.seriatim.exchange.domain;

import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * One record of a CSV file.
 *
 * @param line the physical line on which it begins, from 1
 * @param cells the cells; none when the record as a whole could not be read
 * @param fault why the record could not be read
 */
record CsvRecord(int line, List<CsvCell> cells, @Nullable CsvFault fault) {

	boolean isBlank() {
		return this.fault == null && this.cells.size() == 1 && this.cells.get(0).text().isEmpty()
				&& !this.cells.get(0).malformed();
	}

}
