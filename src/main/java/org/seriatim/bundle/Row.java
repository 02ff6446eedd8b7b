package org.seriatim.bundle;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.Collections;
import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * The typed values of one row of a file and the line on which it begins. A cell that
 * could not be read has no value and is marked as damaged.
 */
public final class Row {

	private final BundleFile file;

	private final int line;

	private final @Nullable Object[] values;

	private final BitSet damaged = new BitSet();

	public Row(BundleFile file, int line) {
		this.file = file;
		this.line = line;
		this.values = new @Nullable Object[file.columns().size()];
	}

	public BundleFile file() {
		return this.file;
	}

	/** The physical line of the file on which the row begins; the header is on line 1. */
	public int line() {
		return this.line;
	}

	/** The values in the order of the file's columns. */
	public List<@Nullable Object> values() {
		List<@Nullable Object> values = new ArrayList<>(this.values.length);
		Collections.addAll(values, this.values);
		return values;
	}

	public void set(int column, @Nullable Object value) {
		this.values[column] = value;
	}

	public @Nullable Object value(int column) {
		return this.values[column];
	}

	public void markDamaged(int column) {
		this.damaged.set(column);
	}

	public boolean isDamaged() {
		return !this.damaged.isEmpty();
	}

	public boolean isDamaged(String column) {
		return this.damaged.get(this.file.position(column));
	}

	public boolean has(String column) {
		return this.values[this.file.position(column)] != null;
	}

	/** The value of a column that has one. */
	public Object get(String column) {
		Object value = this.values[this.file.position(column)];
		if (value == null) {
			throw new IllegalArgumentException("no value in " + column);
		}
		return value;
	}

	/** Whether every column of the key has a value. */
	public boolean hasKey() {
		return this.file.key().stream().allMatch(this::has);
	}

	@Override
	public String toString() {
		return this.file.name() + ":" + this.line;
	}

}
