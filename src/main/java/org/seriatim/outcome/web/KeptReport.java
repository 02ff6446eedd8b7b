package org.seriatim.outcome.web;

import java.util.List;

import org.jspecify.annotations.Nullable;
import tools.jackson.databind.json.JsonMapper;

/**
 * An issued report as it is kept: its tables cell by cell and the sentences at its end.
 *
 * @param definitions with the versions that made it
 */
record KeptReport(List<Table> tables, List<String> definitions) {

	private static final JsonMapper JSON = JsonMapper.builder().build();

	record Table(String word, String caption, List<Figures.Column> columns, List<List<Cell>> rows) {
	}

	/**
	 * A cell; of its first three at most one is there.
	 *
	 * @param real as {@link Double#toString()} writes it, since JSON knows no infinity
	 */
	record Cell(@Nullable Long whole, @Nullable String real, @Nullable String word, @Nullable String name) {

		private static Cell of(Figures.Cell cell) {
			var value = cell.value();
			if (value instanceof Double || value instanceof Float) {
				return new Cell(null, value.toString(), null, cell.name());
			}
			if (value instanceof Number number) {
				return new Cell(number.longValue(), null, null, cell.name());
			}
			return new Cell(null, null, (value != null) ? value.toString() : null, cell.name());
		}

		private Figures.Cell shown() {
			Object value = (this.whole != null) ? this.whole
					: (this.real != null) ? (Object) Double.valueOf(this.real) : this.word;
			return new Figures.Cell(value, this.name, null);
		}

	}

	static KeptReport of(List<Figures> tables, List<String> definitions) {
		return new KeptReport(tables.stream()
			.map((table) -> new Table(table.word(), table.caption(), table.columns(),
					table.rows().stream().map((row) -> row.stream().map(Cell::of).toList()).toList()))
			.toList(), definitions);
	}

	static KeptReport read(String json) {
		return JSON.readValue(json, KeptReport.class);
	}

	String json() {
		return JSON.writeValueAsString(this);
	}

	List<Figures> figures() {
		return this.tables.stream()
			.map((table) -> new Figures(table.word(), table.caption(), table.columns(),
					table.rows().stream().map((row) -> row.stream().map(Cell::shown).toList()).toList()))
			.toList();
	}

}
