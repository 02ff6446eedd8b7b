package org.seriatim.exchange.domain;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
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
import java.util.UUID;

import org.jspecify.annotations.Nullable;

import org.seriatim.access.StaffId;
import org.seriatim.exchange.ImportProgress.Stage;
import org.seriatim.exchange.ImportResult;
import org.seriatim.exchange.ImportResult.FileCounts;
import org.seriatim.exchange.ProblemReport;

import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * The imports of the last day as all services on the database see them. Each write stands
 * by itself, also while the import is in a transaction of its own. The problems of a
 * refused bundle, which may be about patients, are files of the data folder that only the
 * account of the service can read, and no part of a backup.
 */
@Component
class StoredImportJobs {

	private final JdbcClient database;

	private final TransactionTemplate apart;

	private final ImportFolder folder;

	private final ExchangeSettings settings;

	StoredImportJobs(JdbcClient database, PlatformTransactionManager transactions, ImportFolder folder,
			ExchangeSettings settings) {
		this.database = database;
		this.apart = new TransactionTemplate(transactions);
		this.apart.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
		this.folder = folder;
		this.settings = settings;
	}

	/**
	 * @return whether it was added; there is one at a time that has not ended
	 */
	boolean add(ImportJob job, @Nullable StaffId by) {
		var added = this.apart.execute((status) -> this.database.sql("""
				insert into import_job (id, started_at, staff_id, with_update) values (:id, :at, :staff, :update)
				on conflict do nothing""")
			.param("id", job.id())
			.param("at", job.startedAt().atOffset(ZoneOffset.UTC))
			.param("staff", (by != null) ? by.value() : null, Types.OTHER)
			.param("update", job.update())
			.update());
		return added == 1;
	}

	void remove(UUID id) {
		this.apart.executeWithoutResult(
				(status) -> this.database.sql("delete from import_job where id = :id").param("id", id).update());
		try {
			Files.deleteIfExists(file(id));
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	void progress(UUID id, Stage stage, String file, long done, long total) {
		this.apart.executeWithoutResult((status) -> this.database.sql("""
				update import_job set stage = :stage, file = :file, done = :done, total = :total where id = :id""")
			.param("stage", stage.name().toLowerCase(Locale.ROOT))
			.param("file", file)
			.param("done", done)
			.param("total", total)
			.param("id", id)
			.update());
	}

	void ended(UUID id, ImportResult result, Instant at) {
		if (result instanceof ImportResult.Refused refused) {
			keep(id, refused.problems());
			this.apart.executeWithoutResult((status) -> this.database.sql("""
					update import_job set outcome = 'refused', ended_at = :at, problems = :problems,
						complete = :complete where id = :id""")
				.param("at", at.atOffset(ZoneOffset.UTC))
				.param("problems", refused.problems().count())
				.param("complete", refused.complete())
				.param("id", id)
				.update());
			refused.problems().discard();
		}
		else if (result instanceof ImportResult.Taken taken) {
			this.apart.executeWithoutResult((status) -> {
				this.database.sql("""
						update import_job set outcome = 'taken', ended_at = :at, digest = :digest where id = :id""")
					.param("at", at.atOffset(ZoneOffset.UTC))
					.param("digest", taken.digest())
					.param("id", id)
					.update();
				for (int place = 0; place < taken.files().size(); place++) {
					add(id, place, taken.files().get(place));
				}
			});
		}
	}

	private void add(UUID id, int place, FileCounts file) {
		this.database.sql("""
				insert into import_job_file (job_id, place, file, added, changed, unchanged)
				values (?, ?, ?, ?, ?, ?)""")
			.params(id, place, file.file(), file.added(), file.changed(), file.unchanged())
			.update();
	}

	/** Unless it has ended meanwhile. */
	void brokenOff(UUID id, Instant at) {
		this.apart.executeWithoutResult((status) -> this.database.sql("""
				update import_job set outcome = 'broken_off', ended_at = :at where id = :id and outcome is null""")
			.param("at", at.atOffset(ZoneOffset.UTC))
			.param("id", id)
			.update());
	}

	/** The one that was started last. */
	Optional<ImportJob> last() {
		return this.database.sql("""
				select j.*, coalesce(staff.name, '') as by
				from import_job j left join staff on staff.id = j.staff_id
				order by j.started_at desc, j.id desc limit 1""").query((row, number) -> job(row)).optional();
	}

	/** Those that nobody may look at any more, with the problems of their bundles. */
	void forgetEndedBefore(Instant then) {
		this.database.sql("select id from import_job where ended_at < :then")
			.param("then", then.atOffset(ZoneOffset.UTC))
			.query(UUID.class)
			.list()
			.forEach(this::remove);
	}

	private ImportJob job(ResultSet row) throws SQLException {
		return new ImportJob(row.getObject("id", UUID.class), row.getString("by"), instant(row, "started_at"),
				row.getBoolean("with_update"), state(row));
	}

	private ImportJob.State state(ResultSet row) throws SQLException {
		var id = row.getObject("id", UUID.class);
		@Nullable String outcome = row.getString("outcome");
		@Nullable String stage = row.getString("stage");
		if (outcome == null) {
			return new ImportJob.Running((stage != null) ? Stage.valueOf(stage.toUpperCase(Locale.ROOT)) : null,
					row.getString("file"), row.getLong("done"), row.getLong("total"));
		}
		var ended = instant(row, "ended_at");
		return switch (outcome) {
			case "taken" -> new ImportJob.Ended(new ImportResult.Taken(files(id), row.getString("digest")), ended);
			case "refused" -> new ImportJob.Ended(
					new ImportResult.Refused(problems(id, row.getLong("problems")), row.getBoolean("complete")), ended);
			default -> new ImportJob.BrokenOff(ended);
		};
	}

	private List<FileCounts> files(UUID id) {
		return this.database
			.sql("select file, added, changed, unchanged from import_job_file where job_id = :id order by place")
			.param("id", id)
			.query((row, number) -> new FileCounts(row.getString("file"), row.getLong("added"), row.getLong("changed"),
					row.getLong("unchanged")))
			.list();
	}

	private static Instant instant(ResultSet row, String column) throws SQLException {
		return Objects.requireNonNull(row.getObject(column, OffsetDateTime.class)).toInstant();
	}

	private void keep(UUID id, ProblemReport problems) {
		try {
			OwnerOnlyFiles.createFolder(this.folder.folder());
			var writer = new ProblemSpool.Writer(OwnerOnlyFiles.create(file(id)), this.settings.shownProblems());
			problems.forEach(writer);
			writer.finish();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private ProblemReport problems(UUID id, long count) {
		return ProblemSpool.kept(file(id), count, this.settings.shownProblems());
	}

	private Path file(UUID id) {
		return this.folder.folder().resolve(id + ".csv");
	}

	/** Files that may be about patients. */
	private static final class OwnerOnlyFiles {

		private static FileAttribute<?>[] only(String permissions) {
			return FileSystems.getDefault().supportedFileAttributeViews().contains("posix")
					? new FileAttribute<?>[] {
							PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(permissions)) }
					: new FileAttribute<?>[0];
		}

		static void createFolder(Path folder) throws IOException {
			Files.createDirectories(folder, only("rwx------"));
		}

		static Path create(Path file) throws IOException {
			Files.deleteIfExists(file);
			return Files.createFile(file, only("rw-------"));
		}

	}

}
