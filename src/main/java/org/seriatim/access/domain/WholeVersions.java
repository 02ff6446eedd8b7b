package org.seriatim.access.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

import org.seriatim.access.EntryHistory;
import org.seriatim.access.EntryVersion;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffId;
import org.seriatim.access.VersionedEntry;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

@Component
class WholeVersions implements EntryHistory {

	private final JdbcClient database;

	WholeVersions(JdbcClient database) {
		this.database = database;
	}

	@Override
	@Transactional(readOnly = true)
	public Optional<VersionedEntry> of(String kind, UUID entry) {
		return table(kind).flatMap((table) -> read(kind, table, entry));
	}

	/**
	 * The table of that name, quoted by the database itself, if it keeps versions and
	 * says of each who recorded it. What was asked for never gets into a statement.
	 */
	private Optional<String> table(String kind) {
		return this.database.sql("""
				select quote_ident(relname) from pg_class
				where relname = :kind and relnamespace = current_schema()::regnamespace
					and exists (select from pg_trigger where tgrelid = pg_class.oid
						and tgfoid = to_regproc('keep_previous_version'))
					and exists (select from pg_attribute where attrelid = pg_class.oid and attname = 'recorded_at')""")
			.param("kind", kind)
			.query(String.class)
			.optional();
	}

	private Optional<VersionedEntry> read(String kind, String table, UUID entry) {
		var contents = new LinkedHashMap<Long, Map<String, String>>();
		var recorded = new LinkedHashMap<Long, Recorded>();
		var present = new ArrayList<Boolean>();
		this.database
			.sql("""
					with version (number, content, present) as (
						select version, to_jsonb(entry), true from %s entry where id = :entry
						union all
						select version, content, false from previous_version where table_name = :kind and entry_id = :entry)
					select number, present, (content ->> 'recorded_at')::timestamptz as recorded_at,
						(content ->> 'recorded_by')::uuid as recorded_by, content ->> 'correction_reason' as correction_reason,
						key, value
					from version, jsonb_each_text(content) as column_of(key, value)
					order by number desc"""
				.formatted(table))
			.param("kind", kind)
			.param("entry", entry)
			.query((row) -> {
				var number = row.getLong("number");
				present.add(row.getBoolean("present"));
				recorded.putIfAbsent(number, recorded(row));
				if (row.getString("value") != null) {
					contents.computeIfAbsent(number, (ignored) -> new LinkedHashMap<>())
						.put(row.getString("key"), row.getString("value"));
				}
			});
		if (contents.isEmpty()) {
			return Optional.empty();
		}
		return Optional.of(new VersionedEntry(kind, entry, contents.entrySet()
			.stream()
			.map((version) -> new EntryVersion(version.getKey(), recorded.get(version.getKey()), version.getValue()))
			.toList(), !present.contains(true)));
	}

	private static Recorded recorded(ResultSet row) throws SQLException {
		var by = row.getObject("recorded_by", UUID.class);
		return new Recorded(row.getObject("recorded_at", OffsetDateTime.class).toInstant(),
				(by != null) ? new StaffId(by) : null, row.getString("correction_reason"));
	}

}
