package org.seriatim.bundle;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * A file of the bundle: its columns in canonical order, its key, what its rows refer to,
 * and the rules that each row keeps by itself.
 */
public final class BundleFile {

	private final String name;

	private final List<Column> columns;

	private final List<String> key;

	private final List<Reference> references;

	private final List<RowRule> rules;

	private final int since;

	private final Map<String, Integer> positions = new HashMap<>();

	private BundleFile(Builder builder) {
		this.name = builder.name;
		this.columns = List.copyOf(builder.columns);
		this.key = List.copyOf(builder.key);
		this.references = List.copyOf(builder.references);
		this.rules = List.copyOf(builder.rules);
		this.since = builder.since;
		for (Column column : this.columns) {
			if (this.positions.put(column.name(), this.positions.size()) != null) {
				throw new IllegalArgumentException("two columns " + column.name() + " in " + this.name);
			}
		}
		if (this.key.isEmpty() || !this.key.stream().allMatch((column) -> column(column).required())) {
			throw new IllegalArgumentException("the key of " + this.name + " needs required columns");
		}
	}

	/** Begins a file; the key is made of columns that are required. */
	public static Builder named(String name) {
		return new Builder(name);
	}

	/** The name of the file, such as {@code patients.csv}. */
	public String name() {
		return this.name;
	}

	/** The name without its ending, as it stands in the names of staged tables. */
	public String stem() {
		return this.name.substring(0, this.name.lastIndexOf('.'));
	}

	public List<Column> columns() {
		return this.columns;
	}

	public List<String> key() {
		return this.key;
	}

	public List<Reference> references() {
		return this.references;
	}

	public List<RowRule> rules() {
		return this.rules;
	}

	/** The format version that brought the file. */
	public int since() {
		return this.since;
	}

	public Set<String> columnNames() {
		return Set.copyOf(this.positions.keySet());
	}

	public Column column(String column) {
		return this.columns.get(position(column));
	}

	/** Where the column stands in canonical order, from 0. */
	public int position(String column) {
		Integer position = this.positions.get(column);
		if (position == null) {
			throw new IllegalArgumentException("no column " + column + " in " + this.name);
		}
		return position;
	}

	@Override
	public String toString() {
		return this.name;
	}

	/** Declares a file. */
	public static final class Builder {

		private final String name;

		private final List<Column> columns = new ArrayList<>();

		private final List<String> key = new ArrayList<>();

		private final List<Reference> references = new ArrayList<>();

		private final List<RowRule> rules = new ArrayList<>();

		private int since = 1;

		private Builder(String name) {
			this.name = name;
		}

		/**
		 * A column of the key; keys sort by it in the order in which they are declared.
		 */
		public Builder key(String column, Kind kind) {
			this.key.add(column);
			return required(column, kind);
		}

		public Builder required(String column, Kind kind) {
			return column(Column.required(column, kind));
		}

		public Builder optional(String column, Kind kind) {
			return column(Column.optional(column, kind));
		}

		public Builder column(Column column) {
			this.columns.add(column);
			return this;
		}

		/**
		 * The columns together name a row of an earlier file.
		 * @see Reference
		 */
		public Builder refersTo(String file, String meant, String... columns) {
			this.references.add(new Reference(file, List.of(columns), meant));
			return this;
		}

		public Builder rule(RowRule rule) {
			this.rules.add(rule);
			return this;
		}

		public Builder since(int version) {
			this.since = version;
			return this;
		}

		public BundleFile build() {
			return new BundleFile(this);
		}

	}

}
