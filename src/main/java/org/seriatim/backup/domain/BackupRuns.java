package org.seriatim.backup.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;

import org.seriatim.access.StaffId;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** What became of each backup. A line is written when it has ended. */
@Component
class BackupRuns {

	private final JdbcClient database;

	BackupRuns(JdbcClient database) {
		this.database = database;
	}

	void add(BackupRun run, @Nullable StaffId by) {
		this.database.sql("""
				insert into backup_run (started_at, ended_at, how, reason, file, bytes, staff_id)
				values (:started, :ended, :how, :reason, :file, :bytes, :staff)""")
			.param("started", at(run.startedAt()))
			.param("ended", at(run.endedAt()))
			.param("how", run.how().name().toLowerCase(Locale.ROOT))
			.param("reason", run.reason(), Types.VARCHAR)
			.param("file", run.file())
			.param("bytes", run.bytes(), Types.BIGINT)
			.param("staff", (by != null) ? by.value() : null, Types.OTHER)
			.update();
	}

	/** When the records were as the newest good backup holds them. */
	Optional<Instant> lastGood() {
		return latest("reason is null");
	}

	/** The same, of those in the folder of backups. */
	Optional<Instant> lastGoodInFolder() {
		return latest("reason is null and how <> 'command'");
	}

	/** When the service last tried by itself. */
	Optional<Instant> lastTry() {
		return latest("how = 'schedule'");
	}

	private Optional<Instant> latest(String condition) {
		return this.database.sql("select max(started_at) from backup_run where " + condition)
			.query((row, number) -> Optional.ofNullable(row.getObject(1, OffsetDateTime.class)))
			.single()
			.map(OffsetDateTime::toInstant);
	}

	/** Whether any service or command on the database makes one now. */
	boolean isOneBeingMade() {
		return this.database.sql("""
				select exists (select from pg_locks
					where locktype = 'advisory' and granted and objsubid = 1
						and database = (select oid from pg_database where datname = current_database())
						and classid::bigint = :key >> 32 and objid::bigint = :key & 4294967295)""")
			.param("key", MakeBackup.ONE_AT_A_TIME)
			.query(Boolean.class)
			.single();
	}

	/** The last ones, newest first. */
	List<BackupRun> last(int count) {
		return this.database.sql("""
				select started_at, ended_at, how, reason, file, bytes, coalesce(staff.name, '') as by
				from backup_run left join staff on staff.id = backup_run.staff_id
				order by started_at desc, backup_run.id desc limit :count""")
			.param("count", count)
			.query(BackupRuns::run)
			.list();
	}

	private static BackupRun run(ResultSet row, int number) throws SQLException {
		return new BackupRun(instant(row, "started_at"), instant(row, "ended_at"),
				BackupRun.How.valueOf(row.getString("how").toUpperCase(Locale.ROOT)), row.getString("reason"),
				row.getString("file"), row.getObject("bytes", Long.class), row.getString("by"));
	}

	private static Instant instant(ResultSet row, String column) throws SQLException {
		return Objects.requireNonNull(row.getObject(column, OffsetDateTime.class)).toInstant();
	}

	private static OffsetDateTime at(Instant instant) {
		return instant.atOffset(ZoneOffset.UTC);
	}

}
