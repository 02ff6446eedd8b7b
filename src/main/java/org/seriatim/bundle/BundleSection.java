package org.seriatim.bundle;

import java.util.List;

/**
 * One file of the bundle as the owner of its table reads and writes it. There is exactly
 * one section for every file.
 * <p>
 * The statements are SQL. While a bundle is taken they see, for every file, here
 * {@code scars.csv}:
 * <ul>
 * <li>{@code incoming_scars}: the rows of the bundle that have a key, under the names of
 * the file's columns, with {@code line}, {@code id} (the id on record, or a new one) and
 * {@code state}: {@code added}, {@code changed} or {@code unchanged} against the row on
 * record; a cell that could not be read is null,</li>
 * <li>{@code merged_scars}: the rows as they would be on record after the import, those
 * of the bundle over those on record; {@code line} is null for a row that is on record
 * only.</li>
 * </ul>
 * A column of the kind {@link Kind.Moment} has a second one beside it, with
 * {@code _offset} after its name: the offset in minutes in which the time was written.
 */
public interface BundleSection {

	/** The file. */
	BundleFile file();

	/**
	 * A query for all rows on record, under the names of the file's columns, and their
	 * {@code id}.
	 */
	String recorded();

	/**
	 * The statement that writes the rows of the bundle that are added or changed. A
	 * changed row becomes a new version. It may use the parameters {@code :recorded_at},
	 * {@code :recorded_by} and {@code :reason}, the last one for changed rows.
	 */
	String write();

	/** The rules that concern more than one row, beside the file's references. */
	default List<BundleCheck> checks() {
		return List.of();
	}

}
