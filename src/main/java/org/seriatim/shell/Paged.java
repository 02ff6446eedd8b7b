package org.seriatim.shell;

import java.util.List;
import java.util.function.Function;

/**
 * One page of a long list.
 *
 * @param rows the rows of this page
 * @param page number of the page, from 1
 * @param size largest number of rows of a page
 * @param total number of rows of the whole list
 * @param <T> kind of row
 */
public record Paged<T>(List<T> rows, int page, int size, long total) {

	public Paged {
		if (page < 1 || size < 1 || total < 0) {
			throw new IllegalArgumentException(
					"page and size must be positive, total not negative, were " + page + ", " + size + ", " + total);
		}
		rows = List.copyOf(rows);
	}

	/** Number of pages, at least 1. */
	public int pages() {
		return (int) Math.max(1, (this.total + this.size - 1) / this.size);
	}

	/** Number of the first row of this page, from 1; 0 if the list is empty. */
	public long firstRow() {
		return (this.rows.isEmpty()) ? 0 : (this.page - 1L) * this.size + 1;
	}

	/** Number of the last row of this page. */
	public long lastRow() {
		return (this.rows.isEmpty()) ? 0 : (this.page - 1L) * this.size + this.rows.size();
	}

	public boolean hasPrevious() {
		return this.page > 1;
	}

	public boolean hasNext() {
		return this.page < pages();
	}

	/** The same page with each row turned into another kind. */
	public <R> Paged<R> map(Function<? super T, ? extends R> row) {
		return new Paged<>(this.rows.stream().<R>map(row).toList(), this.page, this.size, this.total);
	}

}
