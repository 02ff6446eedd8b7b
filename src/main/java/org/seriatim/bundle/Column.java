package org.seriatim.bundle;

/**
 * A column of a bundle file.
 *
 * @param name the word in the header
 * @param kind what its cells may hold
 * @param required whether every row must have a value here
 * @param since the format version that brought the column; a column of a later version
 * than the first may be missing from a bundle
 */
public record Column(String name, Kind kind, boolean required, int since) {

	public static Column required(String name, Kind kind) {
		return new Column(name, kind, true, 1);
	}

	public static Column optional(String name, Kind kind) {
		return new Column(name, kind, false, 1);
	}

	/** The same column, as one that a later version of the format brought. */
	public Column since(int version) {
		if (this.required) {
			throw new IllegalArgumentException("a column of a later version is optional: " + this.name);
		}
		return new Column(this.name, this.kind, false, version);
	}

	/** What a cell of the column must hold, in plain words. */
	public String expected() {
		return this.required ? this.kind.expected() : this.kind.expected() + ", or nothing";
	}

}
