package org.seriatim.access;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

/**
 * What entries said before they were corrected: correction by correction, or version by
 * version. Who may read an entry may read its earlier versions; the caller sees to that.
 */
public interface EarlierVersions {

	/** The corrections of one row, newest first. */
	default List<Correction> of(String table, UUID entry) {
		return of(table, entry, Map.of());
	}

	/**
	 * The corrections of one row and of the parts that belong to it, newest first. What
	 * one transaction changed is one correction.
	 * @param parts the tables of its parts, each with the column that names the row;
	 * parts that were taken out of it count as well
	 */
	List<Correction> of(String table, UUID entry, Map<String, String> parts);

	/**
	 * Every version that one row ever had, whole: the present one and those that it
	 * replaced.
	 * @param kind the table's word: {@code patient}, {@code scar_assessment} …; it may
	 * come from anybody
	 * @return empty if there is no such row, or the kind keeps no versions
	 */
	Optional<VersionedEntry> whole(String kind, UUID entry);

	/**
	 * One correction.
	 *
	 * @param at when it was made
	 * @param by who made it; nobody for what the service itself or a command entered
	 */
	record Correction(Instant at, @Nullable StaffId by, @Nullable String reason, List<Change> changes) {

		public Correction {
			changes = List.copyOf(changes);
		}

	}

	/** What became of a row. */
	enum Fate {

		CORRECTED, ADDED, TAKEN_OUT

	}

	/**
	 * One row that a correction changed.
	 *
	 * @param number the value of its column {@code number}, if it has one
	 * @param values the columns whose value changed, in the order of the table
	 */
	record Change(String table, UUID entry, @Nullable String number, Fate fate, List<ChangedValue> values) {

		public Change {
			values = List.copyOf(values);
		}

	}

	/**
	 * One column of a row; {@code null} is unknown.
	 */
	record ChangedValue(String column, @Nullable String before, @Nullable String after) {
	}

}
