package org.seriatim.database;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

import org.springframework.util.FileSystemUtils;

import org.seriatim.database.PostgresPrograms.Outcome;

/**
 * The PostgreSQL cluster in a data folder. Whoever calls a method that changes something
 * holds the folder.
 */
final class PostgresCluster {

	private static final Logger logger = LoggerFactory.getLogger(PostgresCluster.class);

	/**
	 * Recovery after a power failure reads the whole journal before it lets anybody in.
	 */
	private static final String START_SECONDS = "300";

	private static final String STOP_SECONDS = "60";

	private static final int WORKERS_END_SECONDS = 20;

	private static final int LINES_SHOWN = 5;

	/**
	 * Given on the command line, so that nothing in a configuration file can take them
	 * back.
	 */
	private static final Map<String, String> SETTINGS = settings();

	private final DataFolder folder;

	private final PostgresPrograms programs;

	PostgresCluster(DataFolder folder, PostgresPrograms programs) {
		this.folder = folder;
		this.programs = programs;
	}

	private static Map<String, String> settings() {
		Map<String, String> settings = new LinkedHashMap<>();
		// an acknowledged write survives a power failure
		settings.put("fsync", "on");
		settings.put("synchronous_commit", "on");
		settings.put("full_page_writes", "on");
		// reachable from this machine only, and with a password only
		settings.put("listen_addresses", "127.0.0.1");
		settings.put("unix_socket_directories", "");
		settings.put("password_encryption", "scram-sha-256");
		settings.put("max_connections", "50");
		settings.put("timezone", "UTC");
		// a week of logs, each day over the one of a week ago
		settings.put("logging_collector", "on");
		settings.put("log_directory", "../logs");
		settings.put("log_filename", "postgresql-%a.log");
		settings.put("log_rotation_age", "1d");
		settings.put("log_rotation_size", "0");
		settings.put("log_truncate_on_rotation", "on");
		settings.put("log_timezone", "UTC");
		// No patient's data in them. A refused statement is the service's to report: its
		// message may quote a value, its detail the key, and its text everything.
		settings.put("log_min_messages", "log");
		settings.put("log_min_error_statement", "panic");
		settings.put("log_error_verbosity", "terse");
		settings.put("log_statement", "none");
		settings.put("log_duration", "off");
		settings.put("log_min_duration_statement", "-1");
		settings.put("log_min_duration_sample", "-1");
		settings.put("log_transaction_sample_rate", "0");
		settings.put("log_parameter_max_length", "0");
		settings.put("log_parameter_max_length_on_error", "0");
		settings.put("log_temp_files", "-1");
		settings.put("log_lock_waits", "off");
		return settings;
	}

	boolean exists() {
		return Files.exists(this.folder.cluster());
	}

	/**
	 * Makes the cluster with its three roles and the empty database, or nothing at all:
	 * the cluster takes its place only when it is complete.
	 */
	void initialise() {
		Path cluster = this.folder.cluster();
		Path draft = cluster.resolveSibling(cluster.getFileName() + ".draft");
		try {
			FileSystemUtils.deleteRecursively(draft);
			Credentials credentials = Credentials.generate();
			Path password = this.folder.path().resolve("password.draft");
			try {
				OwnerOnly.write(password, credentials.superuser());
				// The order of texts is the same on every machine; where people read a
				// list, the query names a collation.
				demand("make the database",
						this.programs.run("initdb", "", "--pgdata=" + draft, "--username=" + Credentials.SUPERUSER,
								"--pwfile=" + password, "--auth=scram-sha-256", "--encoding=UTF8", "--no-locale",
								"--locale-provider=builtin", "--builtin-locale=C.UTF-8", "--data-checksums",
								"--no-instructions"));
			}
			finally {
				Files.deleteIfExists(password);
			}
			execute("make the database", draft, """
					create role %1$s login password '%2$s';
					create role %3$s login password '%4$s';
					create database %1$s owner %1$s;
					""".formatted(Credentials.OWNER, credentials.owner(), Credentials.SERVICE, credentials.service()));
			credentials.keep(draft);
			Files.move(draft, cluster, StandardCopyOption.ATOMIC_MOVE);
		}
		catch (IOException ex) {
			throw new RecordsUnavailable(
					"The database cannot be made in the data folder %s (%s).".formatted(this.folder, ex), ex);
		}
	}

	/** Runs statements, one a line, where no server runs. */
	private void execute(String what, Path cluster, String statements) {
		Outcome outcome = this.programs.run("postgres", statements, "--single", "-D", cluster.toString(),
				Credentials.SUPERUSER);
		// the single-user server reports a refused statement and ends well
		demand(what, outcome.output().contains("ERROR:") ? new Outcome(1, outcome.output()) : outcome);
	}

	/**
	 * The passwords of the cluster. One that an earlier version made, in which the
	 * service worked as the owner, is given the role that it lacks.
	 */
	Credentials credentials() {
		Credentials kept = Credentials.in(this.folder.cluster());
		if (kept.service() != null) {
			return kept;
		}
		stopLeftover();
		Credentials completed = kept.completed();
		// the role may be there already, from an attempt that was interrupted
		execute("give the service a role of its own", this.folder.cluster(), """
				do $$ begin create role %1$s; exception when duplicate_object then null; end $$;
				alter role %1$s login password '%2$s';
				""".formatted(Credentials.SERVICE, completed.service()));
		completed.keep(this.folder.cluster());
		return completed;
	}

	/**
	 * Refuses a cluster that the programs cannot open.
	 */
	void demandSameVersion() {
		Path file = this.folder.cluster().resolve("PG_VERSION");
		String found;
		try {
			found = Files.readString(file).strip();
		}
		catch (IOException ex) {
			throw new RecordsUnavailable(
					"%s is no database of PostgreSQL, or this account may not read it (%s). Run with the account that owns the "
						.formatted(this.folder.cluster(), ex)
							+ "folder, name another folder with seriatim.data, or bring the folder back from the backup.",
					ex);
		}
		String expected = Integer.toString(this.programs.majorVersion());
		if (!found.equals(expected)) {
			throw new RecordsUnavailable(
					"The records in %s were written by PostgreSQL %s, and this version of Seriatim brings PostgreSQL %s, which "
						.formatted(this.folder.cluster(), found, expected)
							+ "cannot open them. Nothing was changed. Start the version of Seriatim that wrote them, export its "
							+ "records, and import them into an empty data folder of this version.");
		}
	}

	/**
	 * Starts the server and waits until it lets clients in.
	 * @return the port on the loopback address
	 */
	int start() {
		stopLeftover();
		Outcome outcome = new Outcome(1, "");
		for (int attempt = 0; attempt < 3; attempt++) {
			int port = freePort();
			outcome = start(port);
			if (outcome.succeeded()) {
				return port;
			}
			if (isFree(port)) {
				break;
			}
			// another program took the port between our look and the server's
		}
		throw doesNotStart(outcome);
	}

	/** Starts a server that has ended by itself, where its clients look for it. */
	void startAgain(int port) {
		stopLeftover();
		Outcome outcome = start(port);
		if (!outcome.succeeded()) {
			throw doesNotStart(outcome);
		}
	}

	private Outcome start(int port) {
		Path log = this.folder.logs().resolve("start.log");
		try {
			Files.deleteIfExists(OwnerOnly.folder(this.folder.logs()).resolve(log));
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
		return this.programs.run("pg_ctl", "", "start", "--wait", "--timeout=" + START_SECONDS, "--silent",
				"--pgdata=" + this.folder.cluster(), "--log=" + log, "--options=" + options(port));
	}

	private RecordsUnavailable doesNotStart(Outcome outcome) {
		stop();
		return new RecordsUnavailable("PostgreSQL does not start on the records in %s. Its last words, from %s:%n%s"
			.formatted(this.folder.cluster(), this.folder.logs(), lastWords().orElseGet(outcome::output).strip()));
	}

	private static String options(int port) {
		return SETTINGS.entrySet()
			.stream()
			.map((setting) -> "-c " + setting.getKey() + "=" + setting.getValue())
			.collect(Collectors.joining(" ", "-p " + port + " ", ""));
	}

	private static int freePort() {
		try (ServerSocket socket = new ServerSocket(0, 1, loopback())) {
			return socket.getLocalPort();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private static boolean isFree(int port) {
		try (ServerSocket socket = new ServerSocket(port, 1, loopback())) {
			return socket.isBound();
		}
		catch (IOException ex) {
			return false;
		}
	}

	private static InetAddress loopback() throws IOException {
		return InetAddress.getByAddress(new byte[] { 127, 0, 0, 1 });
	}

	/**
	 * Ends open transactions, writes everything down and stops the server.
	 */
	void stop() {
		if (postmaster().isEmpty()) {
			return;
		}
		if (!stop("fast").succeeded()) {
			// no acknowledged write is lost: the next start reads them from the journal
			logger.warn("PostgreSQL did not stop within {} seconds and is stopped at once", STOP_SECONDS);
			Outcome outcome = stop("immediate");
			if (!outcome.succeeded() && postmaster().isPresent()) {
				throw new RecordsUnavailable("PostgreSQL on the records in %s does not stop: %s"
					.formatted(this.folder.cluster(), outcome.output().strip()));
			}
		}
	}

	private Outcome stop(String mode) {
		return this.programs.run("pg_ctl", "", "stop", "--wait", "--timeout=" + STOP_SECONDS, "--silent",
				"--mode=" + mode, "--pgdata=" + this.folder.cluster());
	}

	/**
	 * Stops the server that a killed process left behind, and clears away the lock of one
	 * that is gone. Without the latter the server would refuse to start whenever an
	 * unrelated process happens to have the same id, which in a container is the rule.
	 */
	private void stopLeftover() {
		if (postmaster().isPresent()) {
			logger.info("The last service on {} was killed; its database still runs and is stopped first", this.folder);
			stop();
			return;
		}
		awaitEnd(processesInside());
		if (canSeeFoldersOfProcesses()) {
			try {
				Files.deleteIfExists(lockFile());
			}
			catch (IOException ex) {
				throw new UncheckedIOException(ex);
			}
		}
	}

	/**
	 * The workers of a server that was killed see that it is gone and end by themselves.
	 */
	private void awaitEnd(List<ProcessHandle> workers) {
		try {
			CompletableFuture.allOf(workers.stream().map(ProcessHandle::onExit).toArray(CompletableFuture[]::new))
				.get(WORKERS_END_SECONDS, TimeUnit.SECONDS);
		}
		catch (TimeoutException | ExecutionException ex) {
			throw new RecordsUnavailable(
					"Processes of a killed PostgreSQL still work on the records in %s: %s. End them, then start again."
						.formatted(this.folder.cluster(),
								workers.stream()
									.map((process) -> Long.toString(process.pid()))
									.collect(Collectors.joining(", "))),
					ex);
		}
		catch (InterruptedException ex) {
			Thread.currentThread().interrupt();
			throw new IllegalStateException("Interrupted while waiting for PostgreSQL", ex);
		}
	}

	/**
	 * The server that works on this cluster now, if any: the process that the cluster's
	 * own lock names, provided that it works inside the cluster. A number alone proves
	 * nothing; it may have gone to another program since.
	 */
	Optional<ProcessHandle> postmaster() {
		String pid;
		try (Stream<String> lines = Files.lines(lockFile())) {
			pid = lines.findFirst().orElse("").strip();
		}
		catch (NoSuchFileException ex) {
			return Optional.empty();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
		return pid.matches("\\d+")
				? ProcessHandle.of(Long.parseLong(pid)).filter(ProcessHandle::isAlive).filter(this::worksInside)
				: Optional.empty();
	}

	private List<ProcessHandle> processesInside() {
		if (!canSeeFoldersOfProcesses()) {
			return List.of();
		}
		return ProcessHandle.allProcesses().filter(this::worksInside).toList();
	}

	/**
	 * A server's processes all stand in the folder of its cluster. Where the system does
	 * not show that, the command line names it.
	 */
	private boolean worksInside(ProcessHandle process) {
		if (canSeeFoldersOfProcesses()) {
			try {
				Path folderOfProcess = Path.of("/proc", Long.toString(process.pid()), "cwd").toRealPath();
				return folderOfProcess.equals(this.folder.cluster().toRealPath());
			}
			catch (IOException ex) {
				// of another account, or just ended
				return false;
			}
		}
		return process.info()
			.arguments()
			.map((arguments) -> List.of(arguments).contains(this.folder.cluster().toString()))
			.orElseGet(() -> process.info().command().filter((command) -> command.contains("postgres")).isPresent());
	}

	private static boolean canSeeFoldersOfProcesses() {
		return Files.exists(Path.of("/proc/self/cwd"));
	}

	private Path lockFile() {
		return this.folder.cluster().resolve("postmaster.pid");
	}

	private void demand(String what, Outcome outcome) {
		if (!outcome.succeeded()) {
			throw new RecordsUnavailable("PostgreSQL could not %s in the data folder %s: %s".formatted(what,
					this.folder, outcome.output().strip()));
		}
	}

	/**
	 * The end of the newest log. It holds no patient's data.
	 */
	private Optional<String> lastWords() {
		List<String> words = new ArrayList<>();
		try (Stream<Path> logs = Files.list(this.folder.logs())) {
			Optional<Path> newest = logs.filter((log) -> log.toFile().length() > 0)
				.max(Comparator.comparing((log) -> log.toFile().lastModified()));
			if (newest.isPresent()) {
				words.addAll(Files.readAllLines(newest.get(), StandardCharsets.UTF_8));
			}
		}
		catch (IOException ex) {
			logger.debug("No log of PostgreSQL can be read", ex);
		}
		return words.isEmpty() ? Optional.empty() : Optional.of(String.join(System.lineSeparator(),
				words.subList(Math.max(0, words.size() - LINES_SHOWN), words.size())));
	}

}
