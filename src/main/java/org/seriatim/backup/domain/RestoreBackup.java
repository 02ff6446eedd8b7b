package org.seriatim.backup.domain;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import javax.sql.DataSource;

import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.FlywayException;
import org.flywaydb.core.api.MigrationInfo;
import org.jspecify.annotations.Nullable;
import org.postgresql.PGConnection;
import org.postgresql.copy.CopyIn;
import org.seriatim.access.AuditEnd;
import org.seriatim.access.AuditLog;
import org.seriatim.access.InstallationKey;
import org.seriatim.database.RecordsDatabase;
import org.seriatim.database.ServiceRights;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionOperations;

/**
 * Brings a backup back into an empty installation, whole or not at all. Within one
 * transaction the schema is made anew up to the step of the backup, the rows are loaded
 * as they were, read out again and compared with the backup, and the schema moves on to
 * the step of this version. The files are put in place just before that transaction is
 * committed, and taken back if it is not.
 */
@Component
public class RestoreBackup {

	private static final Logger logger = LoggerFactory.getLogger(RestoreBackup.class);

	private final OwnerConnections connections;

	private final RecordsDatabase database;

	private final InstallationSettings installation;

	private final BackupSettings settings;

	private final InstallationKey key;

	private final AuditLog audit;

	private final AuditEnd auditEnd;

	private final TransactionOperations transactions;

	private final DataSource service;

	RestoreBackup(OwnerConnections connections, RecordsDatabase database, InstallationSettings installation,
			BackupSettings settings, InstallationKey key, AuditLog audit, AuditEnd auditEnd,
			TransactionOperations transactions, DataSource service) {
		this.connections = connections;
		this.database = database;
		this.installation = installation;
		this.settings = settings;
		this.key = key;
		this.audit = audit;
		this.auditEnd = auditEnd;
		this.transactions = transactions;
		this.service = service;
	}

	/**
	 * What was restored.
	 *
	 * @param sameKey whether the installation has the key now with which the records were
	 * written; without it nobody's second factor works
	 */
	public record Restored(Contents contents, boolean sameKey) {
	}

	/**
	 * @throws BackupRefused if nothing was restored and nothing changed, with the reason
	 */
	public Restored from(Path file, Passphrase passphrase) {
		if (this.database.access() == RecordsDatabase.Access.JOINED) {
			throw new BackupRefused(
					"A service works on this data folder. Stop it, restore, then start it again. Nothing was changed.");
		}
		try (var in = new BufferedInputStream(Files.newInputStream(file), 1 << 16);
				Connection connection = this.connections.open()) {
			Restored restored;
			try {
				restored = load(connection, in, passphrase, roleOfTheService());
			}
			finally {
				connection.rollback();
			}
			this.auditEnd.forget();
			var contents = restored.contents();
			String detail = "restored, made at %s, %d rows, %d files".formatted(contents.madeAt(), contents.rows(),
					contents.files());
			this.transactions.executeWithoutResult(
					(status) -> this.audit.record(AuditLog.Action.ADMINISTERED, "backup", null, null, detail));
			return restored;
		}
		catch (NoSuchFileException ex) {
			throw new BackupRefused("There is no file %s.".formatted(file));
		}
		catch (IOException ex) {
			throw new BackupRefused(BackupRefused.Reason.OTHER,
					"The backup could not be restored: %s. Nothing was changed.".formatted(MakeBackup.reason(ex)), ex);
		}
		catch (SQLException | FlywayException ex) {
			logger.error("A restore was refused by the database", ex);
			throw new BackupRefused(BackupRefused.Reason.OTHER,
					"The database refused what the backup holds (SQL state %s). Nothing was changed."
						.formatted(state(ex)),
					ex);
		}
	}

	private Restored load(Connection connection, BufferedInputStream in, Passphrase passphrase, String role)
			throws IOException, SQLException {
		OwnerConnections.settle(connection);
		refuseUnlessEmpty(connection);
		try (var files = new RestoredFiles(this.installation.dataFolder(),
				Stream.of(this.settings.folder(), this.installation.programs())
					.filter(Objects::nonNull)
					.map((place) -> place.toAbsolutePath().normalize())
					.collect(Collectors.toSet()))) {
			var loading = new Loading(connection, files);
			Contents contents;
			try {
				contents = ArchiveReader.read(new OpeningStream(in, passphrase), loading);
			}
			catch (SqlFault ex) {
				throw ex.fault;
			}
			finally {
				loading.breakOff();
			}
			loading.finish(contents.tables());
			var toToday = this.connections.within(connection);
			toToday.migrate();
			new ServiceRights(role, this.connections.history()).give(toToday.getConfiguration().getDataSource());
			files.place();
			connection.commit();
			files.keep();
			this.key.readAgain();
			return new Restored(contents, this.key.mark().equals(Objects.requireNonNull(loading.about).keyMark()));
		}
	}

	private String roleOfTheService() throws SQLException {
		try (var connection = this.service.getConnection();
				var statement = connection.createStatement();
				var answer = statement.executeQuery("select current_user")) {
			answer.next();
			return answer.getString(1);
		}
	}

	private static void refuseUnlessEmpty(Connection connection) throws SQLException {
		try (var statement = connection.createStatement()) {
			// so that nobody opens the first account meanwhile
			statement.execute("lock table account, patient in share row exclusive mode");
			try (var answer = statement
				.executeQuery("select exists (select from account), exists (select from patient)")) {
				answer.next();
				if (answer.getBoolean(1) || answer.getBoolean(2)) {
					throw new BackupRefused(
							"This installation has %s already. A backup is restored into an empty installation only: start Seriatim on another data folder or database. Nothing was changed."
								.formatted(answer.getBoolean(2) ? "patients" : "accounts"));
				}
			}
		}
	}

	private static String state(Exception fault) {
		for (Throwable cause = fault; cause != null; cause = cause.getCause()) {
			if (cause instanceof SQLException sql && sql.getSQLState() != null) {
				return sql.getSQLState();
			}
		}
		return "unknown";
	}

	/** Carries what the database says through what reads the archive. */
	private static final class SqlFault extends RuntimeException {

		private static final long serialVersionUID = 1L;

		private final SQLException fault;

		SqlFault(SQLException fault) {
			super(fault);
			this.fault = fault;
		}

	}

	/** What happens to each part of a backup as it comes. */
	private final class Loading implements ArchiveReader.Destination {

		private final Connection connection;

		private final RestoredFiles files;

		private final Schema schema;

		private final Map<String, Schema.Table> tables = new HashMap<>();

		private List<String> again = List.of();

		private @Nullable CopyIn copy;

		private @Nullable About about;

		private Loading(Connection connection, RestoredFiles files) {
			this.connection = connection;
			this.files = files;
			this.schema = new Schema(connection, RestoreBackup.this.connections.history());
		}

		@Override
		public void about(About about) throws IOException {
			this.about = about;
			refuseUnknownSteps(about);
			try {
				var scripts = RestoreBackup.this.connections
					.scripts(about.steps().stream().map(About.Step::version).collect(Collectors.toSet()));
				this.schema.drop();
				RestoreBackup.this.connections.takeExactly(scripts, this.connection);
				// Flyway has settled the connection to its own liking
				OwnerConnections.settle(this.connection);
				if (!Set.copyOf(this.schema.steps()).equals(Set.copyOf(about.steps()))) {
					throw new BackupRefused(
							"This version of Seriatim comes to step %s of the schema by other steps than the one that made the backup. Nothing was changed. Restore it with that version."
								.formatted(about.step()));
				}
				this.again = this.schema.openForLoading();
				this.schema.tables().forEach((table) -> this.tables.put(table.name(), table));
			}
			catch (SQLException ex) {
				throw new SqlFault(ex);
			}
		}

		private void refuseUnknownSteps(About about) {
			Flyway flyway = RestoreBackup.this.connections.flyway();
			var known = Stream.of(flyway.info().all())
				.filter((step) -> step.getVersion() != null && step.getResolvedChecksum() != null)
				.collect(
						Collectors.toMap((step) -> step.getVersion().getVersion(), MigrationInfo::getResolvedChecksum));
			about.steps().forEach((step) -> {
				Integer checksum = known.get(step.version());
				if (checksum == null) {
					throw new BackupRefused(
							"This backup was made by a newer version of Seriatim (its schema has step %s, which this version does not know). Nothing was changed. Restore it with that version or a later one."
								.formatted(step.version()));
				}
				if (!checksum.toString().equals(step.checksum())) {
					throw new BackupRefused(
							"Step %s of the backup's schema is not the one that this version of Seriatim knows. Nothing was changed. Restore it with the version that made it."
								.formatted(step.version()));
				}
			});
		}

		@Override
		public ArchiveReader.TableTarget table(String name) {
			var table = this.tables.get(name);
			if (table == null) {
				throw BackupRefused.damaged("The backup holds a table that its own schema does not have.");
			}
			try {
				this.copy = this.connection.unwrap(PGConnection.class).getCopyAPI().copyIn(table.copyIn());
				return new Rows(this.copy);
			}
			catch (SQLException ex) {
				throw new SqlFault(ex);
			}
		}

		@Override
		public void sequences(List<List<String>> lines) {
			try (var statement = this.connection.prepareStatement("select setval(cast(? as regclass), ?, ?)")) {
				for (var line : lines) {
					statement.setString(1, Schema.quoted(line.get(0)));
					statement.setLong(2, Long.parseLong(line.get(1)));
					statement.setBoolean(3, Boolean.parseBoolean(line.get(2)));
					statement.executeQuery().close();
				}
			}
			catch (SQLException ex) {
				throw new SqlFault(ex);
			}
		}

		@Override
		public OutputStream file(String path) throws IOException {
			return this.files.create(path);
		}

		/** Until a table is read to its end, its connection does nothing else. */
		void breakOff() throws SQLException {
			if (this.copy != null && this.copy.isActive()) {
				this.copy.cancelCopy();
			}
		}

		/**
		 * Everything is loaded: brings back what was taken away for it, and asks the
		 * database for all that it holds now.
		 */
		void finish(SortedMap<String, TableContent> expected) throws SQLException, IOException {
			this.schema.execute("set constraints all immediate");
			for (String statement : this.again) {
				this.schema.execute(statement);
			}
			var found = new TreeMap<String, TableContent>();
			var copy = this.connection.unwrap(PGConnection.class).getCopyAPI();
			for (var table : this.schema.tables()) {
				var digest = Digests.sha256();
				long rows = copy.copyOut(table.copyOut(), new OutputStream() {

					@Override
					public void write(int one) {
						digest.update((byte) one);
					}

					@Override
					public void write(byte[] bytes, int offset, int length) {
						digest.update(bytes, offset, length);
					}

				});
				found.put(table.name(), new TableContent(rows, Digests.hex(digest)));
			}
			if (!found.equals(expected)) {
				throw BackupRefused.damaged("What the database holds after the restore is not what the backup holds.");
			}
		}

	}

	/** Rows on their way into the database. */
	private record Rows(CopyIn copy) implements ArchiveReader.TableTarget {

		@Override
		public void write(byte[] bytes, int length) {
			try {
				this.copy.writeToCopy(bytes, 0, length);
			}
			catch (SQLException ex) {
				throw new SqlFault(ex);
			}
		}

		@Override
		public long end() {
			try {
				return this.copy.endCopy();
			}
			catch (SQLException ex) {
				throw new SqlFault(ex);
			}
		}

	}

}
