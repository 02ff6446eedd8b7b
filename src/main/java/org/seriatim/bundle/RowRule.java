package org.seriatim.bundle;

import java.util.List;
import java.util.function.Predicate;

/**
 * A rule about the values of one row. It is not asked where a cell that it looks at could
 * not be read.
 *
 * @param columns the columns that it looks at; a breach is attributed to the first
 * @param kept whether a row keeps the rule
 * @param expected what is expected, in plain words
 */
public record RowRule(List<String> columns, Predicate<Row> kept, String expected) {

	public RowRule {
		columns = List.copyOf(columns);
	}

	/** Either both columns have a value or neither has. */
	public static RowRule bothOrNeither(String one, String other) {
		return new RowRule(List.of(one, other), (row) -> row.has(one) == row.has(other),
				"both %s and %s, or neither".formatted(one, other));
	}

	/** The value of the first column, where both are known, is at least the other's. */
	@SuppressWarnings("unchecked")
	public static RowRule notBelow(String column, String other, String expected) {
		return new RowRule(List.of(column, other), (row) -> !row.has(column) || !row.has(other)
				|| ((Comparable<Object>) row.get(column)).compareTo(row.get(other)) >= 0, expected);
	}

}
