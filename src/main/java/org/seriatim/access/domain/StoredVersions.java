package org.seriatim.access.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Pattern;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.EarlierVersions;
import org.seriatim.access.EntryVersion;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffId;
import org.seriatim.access.VersionedEntry;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Reads the versions that the database's triggers kept, and compares them. */
@Component
class StoredVersions implements EarlierVersions {

	private static final Pattern IDENTIFIER = Pattern.compile("[a-z_]+");

	/** Columns that say nothing about the patient, or that never change. */
	private static final Set<String> NOT_SHOWN = Set.of("id", "patient_id", "version", "recorded_at", "recorded_by",
			"correction_reason");

	private final JdbcClient database;

	StoredVersions(JdbcClient database) {
		this.database = database;
	}

	@Override
	@Transactional(readOnly = true)
	public List<Correction> of(String table, UUID entry, Map<String, String> parts) {
		var history = new History();
		versions(table, "id", entry).forEach(history::add);
		parts.forEach((part, reference) -> versions(part, reference, entry).forEach(history::add));
		return history.corrections();
	}

	@Override
	@Transactional(readOnly = true)
	public Optional<VersionedEntry> whole(String kind, UUID entry) {
		if (!keepsVersions(kind)) {
			return Optional.empty();
		}
		var versions = versions(kind, "id", entry).toList();
		if (versions.isEmpty()) {
			return Optional.empty();
		}
		var latestFirst = new ArrayList<EntryVersion>();
		versions.forEach((version) -> latestFirst.add(0, version.whole()));
		return Optional
			.of(new VersionedEntry(kind, entry, latestFirst, versions.get(versions.size() - 1).replacedAt() != null));
	}

	/**
	 * Whether there is a table of that name that keeps versions and says of each who
	 * recorded it. Only then does what was asked for get into a statement.
	 */
	private boolean keepsVersions(String kind) {
		return IDENTIFIER.matcher(kind).matches() && this.database.sql("""
				select exists (select from pg_class
				where relname = :kind and relnamespace = current_schema()::regnamespace
					and exists (select from pg_trigger where tgrelid = pg_class.oid
						and tgfoid = to_regproc('keep_previous_version'))
					and exists (select from pg_attribute where attrelid = pg_class.oid and attname = 'recorded_at'))""")
			.param("kind", kind)
			.query(Boolean.class)
			.single();
	}

	/** All versions of the rows of a table in which this column names the entry. */
	private Stream<Version> versions(String table, String column, UUID entry) {
		require(table);
		require(column);
		return this.database
			.sql("""
					select kept.entry_id, kept.version, kept.replaced_at, value.ordinality, value.key, value.value
					from (
						select entry_id, version, replaced_at, content
						from previous_version
						where table_name = '%1$s' and %3$s
						union all
						select id, version, null, to_jsonb(%1$s)
						from %1$s
						where %2$s = :entry
					) kept
					cross join lateral jsonb_each_text(kept.content) with ordinality value
					order by kept.entry_id, kept.version, value.ordinality""".formatted(table, column,
					column.equals("id") ? "entry_id = :entry"
							: "content ->> '%s' = cast(:entry as text)".formatted(column)))
			.param("entry", entry)
			.query((row, index) -> cell(row))
			.list()
			.stream()
			.collect(LinkedHashMap<List<Object>, Version>::new,
					(versions, cell) -> versions
						.computeIfAbsent(List.of(cell.entry(), cell.version()),
								(key) -> new Version(table, column, cell.entry(), cell.version(), cell.replacedAt(),
										new LinkedHashMap<>()))
						.values()
						.put(cell.column(), cell.value()),
					Map::putAll)
			.values()
			.stream();
	}

	private static void require(String identifier) {
		if (!IDENTIFIER.matcher(identifier).matches()) {
			throw new IllegalArgumentException("no name of a table or column: " + identifier);
		}
	}

	private static Cell cell(ResultSet row) throws SQLException {
		var replacedAt = row.getObject("replaced_at", OffsetDateTime.class);
		return new Cell(row.getObject("entry_id", UUID.class), row.getLong("version"),
				(replacedAt != null) ? replacedAt.toInstant() : null, row.getString("key"), row.getString("value"));
	}

	private record Cell(UUID entry, long version, @Nullable Instant replacedAt, String column, @Nullable String value) {
	}

	/**
	 * One version of one row.
	 *
	 * @param reference the column by which it was found; it says nothing new
	 * @param replacedAt when the next one replaced it; {@code null} for the current one
	 */
	private record Version(String table, String reference, UUID entry, long version, @Nullable Instant replacedAt,
			Map<String, @Nullable String> values) {

		Instant recordedAt() {
			return OffsetDateTime.parse(Objects.requireNonNull(this.values.get("recorded_at"))).toInstant();
		}

		@Nullable StaffId recordedBy() {
			var by = this.values.get("recorded_by");
			return (by != null) ? StaffId.of(by) : null;
		}

		@Nullable String reason() {
			return this.values.get("correction_reason");
		}

		EntryVersion whole() {
			var content = new LinkedHashMap<String, String>();
			this.values.forEach((column, value) -> {
				if (value != null) {
					content.put(column, value);
				}
			});
			return new EntryVersion(this.version, new Recorded(recordedAt(), recordedBy(), reason()), content);
		}

		Change added() {
			return change(Fate.ADDED, Map.of(), this.values);
		}

		Change takenOut() {
			return change(Fate.TAKEN_OUT, this.values, Map.of());
		}

		Change correctedTo(Version next) {
			return change(Fate.CORRECTED, this.values, next.values);
		}

		private Change change(Fate fate, Map<String, @Nullable String> before, Map<String, @Nullable String> after) {
			return new Change(this.table, this.entry, this.values.get("number"), fate,
					this.values.keySet()
						.stream()
						.filter((column) -> !NOT_SHOWN.contains(column) && !column.equals(this.reference))
						.filter((column) -> !Objects.equals(before.get(column), after.get(column)))
						.map((column) -> new ChangedValue(column, before.get(column), after.get(column)))
						.toList());
		}

	}

	/** Changes gathered by the moment at which the database replaced the rows. */
	private static final class History {

		private final Map<UUID, List<Version>> byEntry = new LinkedHashMap<>();

		void add(Version version) {
			this.byEntry.computeIfAbsent(version.entry(), (entry) -> new ArrayList<>()).add(version);
		}

		List<Correction> corrections() {
			var moments = new LinkedHashMap<Instant, Moment>();
			for (var versions : this.byEntry.values()) {
				for (var i = 0; i < versions.size(); i++) {
					var version = versions.get(i);
					if (version.replacedAt() != null) {
						var moment = moments.computeIfAbsent(version.replacedAt(), (at) -> new Moment());
						if (i + 1 < versions.size()) {
							moment.entered(versions.get(i + 1), version.correctedTo(versions.get(i + 1)));
						}
						else {
							moment.changes.add(version.takenOut());
						}
					}
				}
			}
			for (var versions : this.byEntry.values()) {
				var first = versions.get(0);
				if (first.reason() != null) {
					moments.values()
						.stream()
						.filter((moment) -> moment.isBy(first))
						.findFirst()
						.ifPresent((moment) -> moment.changes.add(first.added()));
				}
			}
			return moments.entrySet()
				.stream()
				.sorted(Map.Entry.<Instant, Moment>comparingByKey(Comparator.reverseOrder()))
				.map((moment) -> moment.getValue().correction(moment.getKey()))
				.toList();
		}

	}

	/** What one transaction did. */
	private static final class Moment {

		private final List<Change> changes = new ArrayList<>();

		private @Nullable Version result;

		void entered(Version result, Change change) {
			if (this.result == null) {
				this.result = result;
			}
			if (!change.values().isEmpty()) {
				this.changes.add(change);
			}
		}

		/**
		 * Whether a part that a correction added was added by this one: both carry the
		 * same mark of who, when and why.
		 */
		boolean isBy(Version added) {
			return this.result != null && this.result.recordedAt().equals(added.recordedAt())
					&& Objects.equals(this.result.reason(), added.reason());
		}

		Correction correction(Instant replacedAt) {
			return (this.result != null) ? new Correction(this.result.recordedAt(), this.result.recordedBy(),
					this.result.reason(), this.changes) : new Correction(replacedAt, null, null, this.changes);
		}

	}

}
