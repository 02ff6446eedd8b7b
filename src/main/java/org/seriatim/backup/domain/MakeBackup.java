package org.seriatim.backup.domain;

import java.io.BufferedInputStream;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.channels.Channels;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Clock;
import java.util.HashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;

import org.postgresql.PGConnection;
import org.seriatim.access.InstallationKey;
import org.springframework.stereotype.Component;

/**
 * Writes a backup while the service goes on. The database is read in one transaction that
 * sees it as it was when that began; the files are read after, so that each file of which
 * a row speaks is there. A backup gets its name only when it was read back and found
 * whole.
 */
@Component
public class MakeBackup {

	/** Of a file that is not a backup yet. */
	static final String DRAFT = ".seriatim-backup-";

	/** Of the one backup that is made at a time, whoever makes it. */
	static final long ONE_AT_A_TIME = 0x5345_5249_4241_4BL;

	private final OwnerConnections connections;

	private final InstallationSettings installation;

	private final BackupSettings settings;

	private final InstallationKey key;

	private final CheckBackup check;

	private final Clock clock;

	private final KeyDerivation derivation;

	MakeBackup(OwnerConnections connections, InstallationSettings installation, BackupSettings settings,
			InstallationKey key, CheckBackup check, Clock clock, KeyDerivation derivation) {
		this.connections = connections;
		this.installation = installation;
		this.settings = settings;
		this.key = key;
		this.check = check;
		this.clock = clock;
		this.derivation = derivation;
	}

	/**
	 * @param target the file, which must not exist, in a folder that does
	 * @throws BackupRefused if there is no backup now, with the reason
	 */
	public Contents to(Path target, Passphrase passphrase) {
		Path file = target.toAbsolutePath().normalize();
		Path folder = Objects.requireNonNull(file.getParent(), "a file lies in a folder");
		if (Files.exists(file)) {
			throw new BackupRefused("There is something at %s already. Nothing was changed.".formatted(target));
		}
		if (!Files.isDirectory(folder)) {
			throw new BackupRefused(
					"There is no folder %s. If it lies on another disk, is that one there?".formatted(folder));
		}
		try (Connection connection = this.connections.open()) {
			if (!isFirst(connection)) {
				throw new BackupRefused(BackupRefused.Reason.BUSY,
						"Another backup is being made. Wait until it has ended.", null);
			}
			try {
				return write(connection, folder, file, passphrase);
			}
			finally {
				connection.rollback();
				release(connection);
			}
		}
		catch (IOException ex) {
			throw new BackupRefused(BackupRefused.Reason.OTHER,
					"The backup could not be written to %s: %s.".formatted(folder, reason(ex)), ex);
		}
		catch (SQLException ex) {
			throw new BackupRefused(BackupRefused.Reason.OTHER,
					"The database could not be read (SQL state %s).".formatted(ex.getSQLState()), ex);
		}
	}

	private Contents write(Connection connection, Path folder, Path file, Passphrase passphrase)
			throws IOException, SQLException {
		Path draft = folder.resolve(DRAFT + file.getFileName() + "." + ProcessHandle.current().pid());
		try {
			Files.deleteIfExists(draft);
			Contents written;
			var header = SealHeader.fresh(passphrase, this.derivation.iterations(), SealHeader.CHUNK);
			try (var channel = OwnerOnly.create(draft)) {
				var out = new BufferedOutputStream(Channels.newOutputStream(channel), 1 << 16);
				written = seal(connection, out, header);
				out.flush();
				channel.force(true);
			}
			try (var in = new BufferedInputStream(Files.newInputStream(draft), 1 << 16)) {
				if (!this.check.read(OpeningStream.again(in, header)).equals(written)) {
					throw new BackupRefused(
							"The backup was not the same when it was read back from %s. The disk may be failing; use another one."
								.formatted(folder));
				}
			}
			name(draft, file);
			OwnerOnly.settle(folder);
			return written;
		}
		finally {
			Files.deleteIfExists(draft);
		}
	}

	/** Unlike a move, takes no name that another file got meanwhile. */
	private static void name(Path draft, Path file) throws IOException {
		try {
			Files.createLink(file, draft);
		}
		catch (FileAlreadyExistsException ex) {
			throw ex;
		}
		catch (UnsupportedOperationException | FileSystemException ex) {
			// a disk without links
			Files.move(draft, file);
		}
	}

	private Contents seal(Connection connection, OutputStream out, SealHeader header) throws IOException, SQLException {
		var sealing = new SealingStream(out, header);
		Contents contents = archive(connection, sealing);
		sealing.finish();
		return contents;
	}

	/** Everything, in the clear. */
	Contents archive(Connection connection, OutputStream out) throws IOException, SQLException {
		connection.setTransactionIsolation(Connection.TRANSACTION_REPEATABLE_READ);
		connection.setReadOnly(true);
		try {
			OwnerConnections.settle(connection);
			var schema = new Schema(connection, this.connections.history());
			var about = new About(this.clock.instant(), program(), connection.getMetaData().getDatabaseProductVersion(),
					this.key.mark(), schema.steps());
			var archive = new ArchiveWriter(out, about);
			var copy = connection.unwrap(PGConnection.class).getCopyAPI();
			for (var table : schema.tables()) {
				var rows = archive.table(table.name());
				rows.end(copy.copyOut(table.copyOut(), rows));
			}
			archive.sequences(lines(schema.sequences()));
			files(archive);
			return archive.finish(about.step());
		}
		finally {
			connection.rollback();
			connection.setReadOnly(false);
			connection.setTransactionIsolation(Connection.TRANSACTION_READ_COMMITTED);
		}
	}

	private static Lines lines(List<Schema.SequenceState> sequences) {
		var lines = new Lines();
		sequences.forEach((sequence) -> lines.add(sequence.name(), sequence.last(), sequence.called()));
		return lines;
	}

	private void files(ArchiveWriter archive) throws IOException {
		new KeptFiles(this.installation.dataFolder(), places()).forEach((path, file) -> {
			try (var channel = Files.newByteChannel(file); var in = Channels.newInputStream(channel)) {
				archive.file(path, channel.size(), in);
			}
			catch (NoSuchFileException ex) {
				// given up by the records since it was listed
			}
		});
	}

	private Set<Path> places() {
		var places = new HashSet<Path>();
		for (Path place : new Path[] { this.settings.folder(), this.installation.programs() }) {
			if (place != null) {
				places.add(place.toAbsolutePath().normalize());
			}
		}
		return places;
	}

	private static String program() {
		return Objects.requireNonNullElse(MakeBackup.class.getPackage().getImplementationVersion(), "development");
	}

	private static boolean isFirst(Connection connection) throws SQLException {
		try (var statement = connection.createStatement();
				var answer = statement.executeQuery("select pg_try_advisory_lock(%d)".formatted(ONE_AT_A_TIME))) {
			answer.next();
			return answer.getBoolean(1);
		}
		finally {
			connection.commit();
		}
	}

	private static void release(Connection connection) throws SQLException {
		try (var statement = connection.createStatement()) {
			statement.execute("select pg_advisory_unlock(%d)".formatted(ONE_AT_A_TIME));
		}
		connection.commit();
	}

	/** What the system says of a file, without the name of the draft. */
	static String reason(IOException ex) {
		if (ex instanceof FileAlreadyExistsException) {
			return "there is something of this name already";
		}
		if (ex instanceof FileSystemException file && file.getReason() != null) {
			return file.getReason();
		}
		return (ex instanceof FileSystemException) ? ex.getClass().getSimpleName() : String.valueOf(ex.getMessage());
	}

}
