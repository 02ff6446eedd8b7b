package org.seriatim.bundle;

import java.util.List;

/**
 * A row names a row of another file: the values of its columns are the key of that row,
 * in the bundle or on record. A row that lacks one of the values refers to nothing.
 *
 * @param file the file referred to
 * @param columns the columns of the referring file, in the order of the other file's key
 * @param meant what is referred to, in plain words
 */
public record Reference(String file, List<String> columns, String meant) {

	public Reference {
		columns = List.copyOf(columns);
	}

	/** The column to which a broken reference is attributed. */
	public String column() {
		return this.columns.get(this.columns.size() - 1);
	}

}
