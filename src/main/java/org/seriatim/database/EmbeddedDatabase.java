package org.seriatim.database;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.time.Duration;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.locks.LockSupport;

import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * An open embedded database: started by this process, which then holds the data folder
 * and stops the server in the end, or joined.
 * <p>
 * A service is refused where another service runs; a command joins it. Both wait for a
 * command that has the folder for itself, since that one will end.
 */
final class EmbeddedDatabase implements RecordsDatabase, AutoCloseable {

	private static final Logger logger = LoggerFactory.getLogger(EmbeddedDatabase.class);

	private static final Duration PATIENCE = Duration.ofMinutes(10);

	private static final Duration LOOK_AGAIN = Duration.ofMillis(100);

	/** Before a server that ended by itself is started once more. */
	private static final Duration SHORTEST_PAUSE = Duration.ofSeconds(1);

	private static final Duration LONGEST_PAUSE = Duration.ofSeconds(30);

	private final DataFolder folder;

	private final Access access;

	private final int port;

	private final Credentials credentials;

	private volatile @Nullable PostgresCluster cluster;

	private DataFolder.@Nullable Hold hold;

	private EmbeddedDatabase(DataFolder folder, Access access, int port, Credentials credentials) {
		this.folder = folder;
		this.access = access;
		this.port = port;
		this.credentials = credentials;
	}

	static EmbeddedDatabase open(DataSettings settings) {
		return open(settings, PATIENCE);
	}

	static EmbeddedDatabase open(DataSettings settings, Duration patience) {
		DataFolder folder = DataFolder.at(settings.data());
		Occupant.Kind kind = settings.command() ? Occupant.Kind.COMMAND : Occupant.Kind.SERVICE;
		long deadline = System.nanoTime() + patience.toNanos();
		boolean told = false;
		while (true) {
			Optional<DataFolder.Hold> hold = folder.tryHold();
			if (hold.isPresent()) {
				return start(folder, hold.get(), kind, settings.programsFolder());
			}
			Optional<Occupant> occupant = Occupant.in(folder);
			if (occupant.isPresent() && occupant.get().kind() == Occupant.Kind.SERVICE) {
				if (kind == Occupant.Kind.SERVICE) {
					throw new RecordsUnavailable(
							"Another Seriatim (process %d) already serves the records in %s. Use that one or stop it first; to run a second clinic beside it, give this one another folder with seriatim.data and another server.port."
								.formatted(occupant.get().pid(), folder));
				}
				Optional<EmbeddedDatabase> joined = join(folder, occupant.get());
				if (joined.isPresent()) {
					return joined.get();
				}
			}
			else if (occupant.isPresent() && !told) {
				told = true;
				logger.info("Waiting for a command (process {}) to end its work on {}", occupant.get().pid(), folder);
			}
			if (System.nanoTime() > deadline) {
				throw new RecordsUnavailable(
						"Another process%s has worked on the records in %s for longer than %d minutes. Wait for it or stop it, then start again."
							.formatted(occupant.map((other) -> " (" + other.pid() + ")").orElse(""), folder,
									patience.toMinutes()));
			}
			LockSupport.parkNanos(LOOK_AGAIN.toNanos());
		}
	}

	private static EmbeddedDatabase start(DataFolder folder, DataFolder.Hold hold, Occupant.Kind kind, Path programs) {
		EmbeddedDatabase database = null;
		try {
			Occupant.thisProcess(kind, 0).enter(folder);
			PostgresPrograms postgres = PostgresPrograms.in(programs);
			PostgresCluster cluster = new PostgresCluster(folder, postgres);
			boolean first = !cluster.exists();
			if (first) {
				cluster.initialise();
			}
			cluster.demandSameVersion();
			Credentials credentials = cluster.credentials();
			database = new EmbeddedDatabase(folder, Access.STARTED, cluster.start(), credentials);
			database.cluster = cluster;
			database.hold = hold;
			Occupant.thisProcess(kind, database.port).enter(folder);
			cluster.postmaster().ifPresent(database::watch);
			if (first || kind == Occupant.Kind.SERVICE) {
				logger.info("The records are kept in {} (embedded PostgreSQL {})", folder, postgres.version());
			}
			return database;
		}
		catch (RuntimeException ex) {
			if (database != null) {
				database.close();
			}
			Occupant.leave(folder);
			hold.close();
			throw ex;
		}
	}

	/**
	 * Joins the database of a service, unless that one is still starting or just ending.
	 */
	private static Optional<EmbeddedDatabase> join(DataFolder folder, Occupant occupant) {
		if (!occupant.isReady()) {
			return Optional.empty();
		}
		Credentials credentials = Credentials.in(folder.cluster());
		if (credentials.service() == null) {
			throw RecordsUnavailable.servedByAnOlderVersion();
		}
		EmbeddedDatabase database = new EmbeddedDatabase(folder, Access.JOINED, occupant.port(), credentials);
		try (Connection connection = DriverManager.getConnection(database.jdbcUrl(), database.user(),
				database.password())) {
			return Optional.of(database).filter((candidate) -> valid(connection));
		}
		catch (SQLException ex) {
			logger.debug("The database of process {} does not let anybody in", occupant.pid(), ex);
			return Optional.empty();
		}
	}

	private static boolean valid(Connection connection) {
		try {
			return connection.isValid(5);
		}
		catch (SQLException ex) {
			return false;
		}
	}

	String jdbcUrl() {
		return "jdbc:postgresql://127.0.0.1:%d/%s".formatted(this.port, Credentials.OWNER);
	}

	/** The role that the service works with. */
	String user() {
		return Credentials.SERVICE;
	}

	String password() {
		return Objects.requireNonNull(this.credentials.service());
	}

	/** The role that owns the tables. */
	String owner() {
		return Credentials.OWNER;
	}

	String passwordOfOwner() {
		return this.credentials.owner();
	}

	@Override
	public Access access() {
		return this.access;
	}

	@Override
	public String place() {
		return this.folder.toString();
	}

	@Override
	public Optional<Path> folder() {
		return Optional.of(this.folder.path());
	}

	private void watch(ProcessHandle postmaster) {
		postmaster.onExit().thenRun(() -> {
			if (this.cluster != null) {
				Thread again = new Thread(this::startAgain, "postgresql-again");
				again.setDaemon(true);
				again.start();
			}
		});
	}

	/**
	 * Starts a server that somebody or the system has killed, or that found no room on
	 * the disk, again and again until it runs or the service ends. What it had
	 * acknowledged is in its journal.
	 */
	private void startAgain() {
		logger.error("PostgreSQL has ended by itself and is started again. What it said: {}", this.folder.logs());
		Duration pause = SHORTEST_PAUSE;
		while (!runsAgain(pause)) {
			LockSupport.parkNanos(pause.toNanos());
			pause = pause.multipliedBy(2);
			if (pause.compareTo(LONGEST_PAUSE) > 0) {
				pause = LONGEST_PAUSE;
			}
		}
	}

	/**
	 * @return whether there is nothing more to do
	 */
	private synchronized boolean runsAgain(Duration pause) {
		PostgresCluster cluster = this.cluster;
		if (cluster == null) {
			return true;
		}
		try {
			cluster.startAgain(this.port);
			cluster.postmaster().ifPresent(this::watch);
			logger.info("PostgreSQL runs again");
			return true;
		}
		catch (RuntimeException ex) {
			logger.error("PostgreSQL could not be started again, it is tried once more in {} seconds: {}",
					pause.toSeconds(), ex.getMessage());
			return false;
		}
	}

	/**
	 * Stops what this process started; leaves alone what it joined.
	 */
	@Override
	public synchronized void close() {
		PostgresCluster cluster = this.cluster;
		DataFolder.Hold hold = this.hold;
		if (cluster == null || hold == null) {
			return;
		}
		this.cluster = null;
		this.hold = null;
		try {
			Occupant.leave(this.folder);
			cluster.stop();
		}
		finally {
			hold.close();
		}
	}

}
