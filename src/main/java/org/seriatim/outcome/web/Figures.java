package org.seriatim.outcome.web;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;

import org.jspecify.annotations.Nullable;
import org.seriatim.shell.ReportCell;
import org.seriatim.shell.Written;
import org.seriatim.statistics.Bounds;

/**
 * One table of figures: what a page writes and what its file holds come from the same
 * cells, rounded on the page and unrounded in the file.
 *
 * @param word in the address of the file
 * @param caption what the table shows
 * @param rows as many cells in each as there are columns
 */
record Figures(String word, String caption, List<Column> columns, List<List<Cell>> rows) {

	/** How a number is written on the page. */
	enum Format {

		/** A name or a word. */
		NAME,
		/** A whole number. */
		COUNT,
		/** A share from 0 to 1, written in percent. */
		SHARE,
		/** Percent already. */
		PERCENT,
		/** With one decimal. */
		TENTHS,
		/** With two decimals. */
		HUNDREDTHS,
		/** With three decimals. */
		THOUSANDTHS;

		String write(Object value) {
			if (value instanceof Number number) {
				return switch (this) {
					case NAME -> value.toString();
					case COUNT -> (value instanceof Double real) ? Written.number(real, 0) : value.toString();
					case SHARE -> Written.number(100 * number.doubleValue(), 1) + " %";
					case PERCENT -> Written.number(number.doubleValue(), 1) + " %";
					case TENTHS -> Written.number(number.doubleValue(), 1);
					case HUNDREDTHS -> Written.number(number.doubleValue(), 2);
					case THOUSANDTHS -> Written.number(number.doubleValue(), 3);
				};
			}
			return value.toString();
		}

	}

	/** Whether a column is one of two limits, which the page writes in one cell. */
	enum Part {

		WHOLE, LOW, HIGH

	}

	/**
	 * @param word in the head of the file
	 * @param label in the head of the page's table
	 */
	record Column(String word, String label, Format format, Part part) {

		public boolean isNumber() {
			return this.format != Format.NAME;
		}

	}

	/**
	 * @param value a number or a word; {@code null} where there is none
	 * @param name what the page says instead of a word
	 * @param href where the page leads from it
	 */
	record Cell(@Nullable Object value, @Nullable String name, @Nullable String href) {
	}

	/** As the page writes a cell. */
	record Shown(String text, boolean number, boolean heads, @Nullable String href) {
	}

	static Builder named(String word, String caption, OutcomeWords words) {
		return new Builder(word, caption, words);
	}

	/** The labels of the page's columns; two limits are one of them. */
	public List<Column> shownColumns() {
		return this.columns.stream().filter((column) -> column.part() != Part.HIGH).toList();
	}

	public List<List<Shown>> shownRows() {
		return this.rows.stream().map(this::shown).toList();
	}

	private List<Shown> shown(List<Cell> row) {
		var shown = new ArrayList<Shown>();
		for (int i = 0; i < row.size(); i++) {
			var column = this.columns.get(i);
			var cell = row.get(i);
			if (column.part() == Part.HIGH) {
				continue;
			}
			var text = "–";
			if (column.part() == Part.LOW) {
				var high = row.get(i + 1).value();
				if (cell.value() != null && high != null) {
					text = isInfinite(high) ? "" : column.format().write(high);
					text = isInfinite(high) ? "beyond " + column.format().write(cell.value())
							: cell.value().equals(high) ? text
									: column.format().write(cell.value()).replace(" %", "") + " to " + text;
				}
			}
			else if (cell.value() != null) {
				text = (cell.name() != null) ? cell.name() : column.format().write(cell.value());
			}
			shown.add(new Shown(text, column.isNumber(), i == 0, cell.href()));
		}
		return shown;
	}

	private static boolean isInfinite(Object value) {
		return value instanceof Double real && real.isInfinite();
	}

	/** The cells as the file has them. */
	List<List<String>> file() {
		return this.rows.stream().map((row) -> row.stream().map(Figures::written).toList()).toList();
	}

	private static String written(Cell cell) {
		var value = cell.value();
		if (value == null) {
			return "";
		}
		if (value instanceof Double number) {
			return number.isInfinite() ? "" : BigDecimal.valueOf(number).stripTrailingZeros().toPlainString();
		}
		return (value instanceof Number) ? value.toString() : ReportCell.text(value.toString());
	}

	/** Writes a table column by column, then row by row. */
	static final class Builder {

		private final String word;

		private final String caption;

		private final OutcomeWords words;

		private final List<Column> columns = new ArrayList<>();

		private final List<List<Cell>> rows = new ArrayList<>();

		private Builder(String word, String caption, OutcomeWords words) {
			this.word = word;
			this.caption = caption;
			this.words = words;
		}

		Builder column(String column, Format format) {
			this.columns.add(new Column(column, label(column), format, Part.WHOLE));
			return this;
		}

		Builder counts(String... names) {
			for (String name : names) {
				column(name, Format.COUNT);
			}
			return this;
		}

		/** Two columns that are the ends of one interval. */
		Builder limits(String low, String high, Format format) {
			this.columns.add(new Column(low, label(low), format, Part.LOW));
			this.columns.add(new Column(high, label(low), format, Part.HIGH));
			return this;
		}

		private String label(String column) {
			return this.words.text("outcome.column." + column);
		}

		Row row() {
			return new Row();
		}

		Figures done() {
			return new Figures(this.word, this.caption, List.copyOf(this.columns), List.copyOf(this.rows));
		}

		/** The cells of one row, in the order of the columns. */
		final class Row {

			private final List<Cell> cells = new ArrayList<>();

			Row name(String value, String name) {
				return name(value, name, null);
			}

			Row name(String value, String name, @Nullable String href) {
				this.cells.add(new Cell(value, name, href));
				return this;
			}

			Row number(@Nullable Number value) {
				this.cells.add(new Cell(value, null, null));
				return this;
			}

			Row number(OptionalDouble value) {
				return number(value.isPresent() ? value.getAsDouble() : null);
			}

			Row limits(@Nullable Bounds bounds) {
				return number((bounds != null) ? (Double) bounds.low() : null)
					.number((bounds != null) ? (Double) bounds.high() : null);
			}

			Builder end() {
				if (this.cells.size() != Builder.this.columns.size()) {
					throw new IllegalStateException("a row of " + Builder.this.word + " must have "
							+ Builder.this.columns.size() + " cells, but has " + this.cells.size());
				}
				Builder.this.rows.add(List.copyOf(this.cells));
				return Builder.this;
			}

		}

	}

}
