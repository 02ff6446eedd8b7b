package org.seriatim.exchange.domain;

import java.io.IOException;
import java.io.InputStream;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;

import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.Column;
import org.seriatim.bundle.Row;
import org.seriatim.bundle.RowRule;
import org.seriatim.exchange.Problem;

/**
 * Reads the rows of one file and reports every cell, row and header that is not as the
 * file's declaration says.
 */
final class RowReader {

	private static final int LONGEST_QUOTE = 120;

	private final BundleFile file;

	private final CsvReader csv;

	private final Consumer<Problem> problems;

	/** For each column of the file, in canonical order, its index in a record, or -1. */
	private final int[] indexes;

	private int width;

	RowReader(BundleFile file, InputStream in, Consumer<Problem> problems) throws IOException {
		this.file = file;
		this.csv = new CsvReader(in);
		this.problems = problems;
		this.indexes = new int[file.columns().size()];
		Arrays.fill(this.indexes, -1);
	}

	/**
	 * Reads the header.
	 * @return whether the rows can be told apart by their keys
	 */
	boolean readHeader() throws IOException {
		if (this.csv.looksLikeUtf16()) {
			report(1, "text that is not UTF-8 but looks like UTF-16", "text in UTF-8");
			return false;
		}
		CsvRecord header = this.csv.next();
		if (header == null) {
			report(null, "an empty file", "a first line with the names of the columns");
			return false;
		}
		if (header.fault() != null) {
			report(header.line(), header.fault().found(), header.fault().expected());
			return false;
		}
		List<CsvCell> names = header.cells();
		if (names.size() == 1 && (names.get(0).text().contains(";") || names.get(0).text().contains("\t"))) {
			report(header.line(), quoted(names.get(0).text()), "cells separated by commas");
			return false;
		}
		this.width = names.size();
		for (int i = 0; i < this.width; i++) {
			recognise(header.line(), i, names.get(i).text());
		}
		for (int i = 0; i < this.indexes.length; i++) {
			Column column = this.file.columns().get(i);
			// what a later version of the format brought may be missing
			if (this.indexes[i] < 0 && column.since() == 1) {
				this.problems.accept(new Problem(this.file.name(), header.line(), null, column.name(), "no such column",
						"the column " + column.name()));
			}
		}
		return this.file.key().stream().allMatch((column) -> this.indexes[this.file.position(column)] >= 0);
	}

	private void recognise(int line, int index, String name) {
		if (!this.file.columnNames().contains(name)) {
			this.problems.accept(new Problem(this.file.name(), line, index + 1, null,
					name.isEmpty() ? "a column without a name" : quoted(name), "no other columns than "
							+ this.file.columns().stream().map(Column::name).collect(Collectors.joining(", "))));
		}
		else if (this.indexes[this.file.position(name)] >= 0) {
			this.problems
				.accept(new Problem(this.file.name(), line, index + 1, name, "the column again", "each column once"));
		}
		else {
			this.indexes[this.file.position(name)] = index;
		}
	}

	/** Where each column stands in the file, from 1. */
	Map<String, Integer> columnNumbers() {
		Map<String, Integer> numbers = new HashMap<>();
		for (int i = 0; i < this.indexes.length; i++) {
			if (this.indexes[i] >= 0) {
				numbers.put(this.file.columns().get(i).name(), this.indexes[i] + 1);
			}
		}
		return numbers;
	}

	/**
	 * The next row whose cells could be told apart, or nothing at the end of the file.
	 */
	@Nullable Row next() throws IOException {
		CsvRecord record = this.csv.next();
		while (record != null) {
			if (record.fault() != null) {
				report(record.line(), record.fault().found(), record.fault().expected());
			}
			else if (!record.isBlank()) {
				return (record.cells().size() == this.width) ? row(record) : rowOfOtherWidth(record);
			}
			record = this.csv.next();
		}
		return null;
	}

	private Row row(CsvRecord record) {
		Row row = new Row(this.file, record.line());
		for (int i = 0; i < this.indexes.length; i++) {
			Column column = this.file.columns().get(i);
			if (this.indexes[i] < 0) {
				if (column.since() == 1) {
					row.markDamaged(i);
				}
				continue;
			}
			CsvCell cell = record.cells().get(this.indexes[i]);
			Object value = (cell.malformed() || cell.text().isEmpty()) ? null : column.kind().read(cell.text());
			row.set(i, value);
			if (value == null && (column.required() || !cell.text().isEmpty())) {
				row.markDamaged(i);
				this.problems.accept(new Problem(this.file.name(), record.line(), this.indexes[i] + 1, column.name(),
						found(cell), cell.malformed() ? "text in UTF-8" : column.expected()));
			}
		}
		for (RowRule rule : this.file.rules()) {
			if (rule.columns().stream().noneMatch(row::isDamaged) && !rule.kept().test(row)) {
				String first = rule.columns().get(0);
				this.problems.accept(new Problem(this.file.name(), record.line(),
						this.indexes[this.file.position(first)] + 1, first, found(row, rule), rule.expected()));
			}
		}
		return row;
	}

	/**
	 * A row with too few or too many cells is wrong as a whole. Its key is taken all the
	 * same where it can be read, lest every row that refers to it be reported too.
	 */
	private Row rowOfOtherWidth(CsvRecord record) {
		report(record.line(), "%d cells".formatted(record.cells().size()),
				"%d cells, as many as the header has".formatted(this.width));
		Row row = new Row(this.file, record.line());
		for (int i = 0; i < this.indexes.length; i++) {
			Column column = this.file.columns().get(i);
			int index = this.indexes[i];
			if (this.file.key().contains(column.name()) && index >= 0 && index < record.cells().size()
					&& !record.cells().get(index).malformed()) {
				row.set(i, column.kind().read(record.cells().get(index).text()));
			}
			row.markDamaged(i);
		}
		return row;
	}

	private void report(@Nullable Integer line, String found, String expected) {
		this.problems.accept(new Problem(this.file.name(), line, null, null, found, expected));
	}

	private static String found(CsvCell cell) {
		if (cell.text().isEmpty()) {
			return "nothing";
		}
		return cell.malformed() ? "bytes that are not UTF-8 in " + quoted(cell.text()) : quoted(cell.text());
	}

	private String found(Row row, RowRule rule) {
		return rule.columns().stream().map((name) -> {
			Object value = row.value(this.file.position(name));
			return name + " " + ((value == null) ? "nothing" : quoted(this.file.column(name).kind().write(value)));
		}).collect(Collectors.joining(", "));
	}

	/** The text in quotes, on one line and not too long. */
	private static String quoted(String text) {
		String shown = (text.length() <= LONGEST_QUOTE) ? text : text.substring(0, LONGEST_QUOTE) + "…";
		return '"' + shown.replaceAll("\\p{Cntrl}", "�") + '"';
	}

}
