package org.seriatim.shell;

import java.util.Set;

import org.jspecify.annotations.Nullable;

/**
 * By which column a list is sorted, as it stands in an address: {@code sort=first-day} or
 * {@code sort=-first-day} for the descending order.
 *
 * @param key the column's key
 * @param descending largest first
 */
public record Sorting(String key, boolean descending) {

	/**
	 * Reads the parameter of an address.
	 * @param parameter what the address says, if anything
	 * @param keys the keys of the columns that can be sorted
	 * @param otherwise the order where the address says none that exists
	 */
	public static Sorting of(@Nullable String parameter, Set<String> keys, Sorting otherwise) {
		if (parameter == null) {
			return otherwise;
		}
		var descending = parameter.startsWith("-");
		var key = descending ? parameter.substring(1) : parameter;
		return keys.contains(key) ? new Sorting(key, descending) : otherwise;
	}

	/** The parameter of an address that asks for this order. */
	public String parameter() {
		return (this.descending ? "-" : "") + this.key;
	}

	/**
	 * The parameter that a column's heading leads to: this order turned round if the list
	 * is sorted by that column, else ascending.
	 */
	public String next(String column) {
		return new Sorting(column, column.equals(this.key) && !this.descending).parameter();
	}

	/** The value of {@code aria-sort} for a column's heading. */
	public String aria(String column) {
		if (!column.equals(this.key)) {
			return "none";
		}
		return this.descending ? "descending" : "ascending";
	}

}
