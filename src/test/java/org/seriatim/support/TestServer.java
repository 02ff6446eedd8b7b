package org.seriatim.support;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import org.flywaydb.core.Flyway;
import org.seriatim.database.ServiceRights;
import org.testcontainers.DockerClientFactory;
import org.testcontainers.postgresql.PostgreSQLContainer;

import org.springframework.util.FileSystemUtils;
import org.springframework.util.StringUtils;

/**
 * The PostgreSQL server of a test run: the one that {@code spring.datasource.url} names
 * (as a system property, or {@code SPRING_DATASOURCE_URL}; its account must be allowed to
 * create databases and roles), else a container where an engine answers, else an embedded
 * one.
 * <p>
 * The migrations run once, into a template; every database that a test gets is a copy of
 * it, made ahead by a thread of its own while the test before still runs. Their owner is
 * no superuser, and the service works with a role that owns nothing, as in production, so
 * a migration or query that needs more rights fails here first.
 */
final class TestServer {

	private static final String IMAGE = "postgres:18";

	private static final String PREFIX = "seriatim-test-";

	private static final Pattern JDBC_URL = Pattern.compile("(jdbc:postgresql://[^/]+/)([^?]*)(.*)");

	private static TestServer running;

	private final String urlFormat;

	private final Account admin;

	private final Account owner;

	private final Account service = new Account("seriatim_test_service", "seriatim");

	private final String template = "template_" + shortId();

	private final Set<String> databases = ConcurrentHashMap.newKeySet();

	private final ExecutorService housekeeping = Executors.newSingleThreadExecutor((task) -> {
		Thread thread = new Thread(task, "test-databases");
		thread.setDaemon(true);
		return thread;
	});

	private CompletableFuture<String> next;

	private TestServer(String url, Account admin, Account owner) {
		Matcher parts = JDBC_URL.matcher(url);
		if (!parts.matches()) {
			throw new IllegalArgumentException("spring.datasource.url is not jdbc:postgresql://host/database");
		}
		this.urlFormat = parts.group(1) + "%s" + parts.group(3).replace("%", "%%");
		this.admin = admin;
		this.owner = owner;
		if (!admin.equals(owner)) {
			execute("create role %s login password '%s'".formatted(owner.name(), owner.password()));
		}
		execute("""
				do $$ begin
					if not exists (select from pg_roles where rolname = '%1$s') then
						create role %1$s login password '%2$s';
					end if;
				end $$""".formatted(this.service.name(), this.service.password()));
		execute("create database %s owner %s template template0 encoding 'UTF8' locale_provider builtin builtin_locale 'C.UTF-8' locale 'C'"
			.formatted(this.template, owner.name()));
		Flyway migrations = Flyway.configure()
			.dataSource(url(this.template), owner.name(), owner.password())
			.locations("classpath:db/migration")
			.load();
		migrations.migrate();
		try {
			new ServiceRights(this.service.name(), migrations.getConfiguration().getTable())
				.give(migrations.getConfiguration().getDataSource());
		}
		catch (SQLException ex) {
			throw new IllegalStateException(ex);
		}
		Runtime.getRuntime().addShutdownHook(new Thread(this::dropAll));
		this.next = prepare();
	}

	static synchronized TestServer running() {
		if (running == null) {
			running = start();
		}
		return running;
	}

	private static TestServer start() {
		String configured = setting("spring.datasource.url");
		if (configured != null) {
			Account account = new Account(setting("spring.datasource.username"), setting("spring.datasource.password"));
			return new TestServer(configured, account, account);
		}
		Account owner = new Account("seriatim", "seriatim");
		if (engineAnswers()) {
			// closed by the engine's own reaper when this process ends
			@SuppressWarnings("resource")
			PostgreSQLContainer container = new PostgreSQLContainer(IMAGE).withCommand("postgres", "-c", "fsync=off");
			container.start();
			return new TestServer(container.getJdbcUrl(), new Account(container.getUsername(), container.getPassword()),
					owner);
		}
		try {
			EmbeddedPostgres embedded = EmbeddedPostgres.builder()
				.setDataDirectory(memory())
				// copies of the template are not worth a checkpoint each
				.setServerConfig("max_wal_size", "2GB")
				.setServerConfig("full_page_writes", "off")
				.start();
			String url = "jdbc:postgresql://localhost:%d/postgres".formatted(embedded.getPort());
			return new TestServer(url, new Account("postgres", ""), owner);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	/**
	 * In memory where there is room: a database is three hundred small files, which takes
	 * a disk twenty times as long to copy.
	 */
	private static Path memory() throws IOException {
		if (!InMemory.isRoomy()) {
			return Files.createTempDirectory(PREFIX);
		}
		Path memory = InMemory.folder();
		// what a killed run left behind
		try (var old = Files.newDirectoryStream(memory, PREFIX + "*")) {
			for (Path folder : old) {
				String pid = folder.getFileName().toString().substring(PREFIX.length());
				if (ProcessHandle.of(Long.parseLong(pid)).isEmpty()) {
					FileSystemUtils.deleteRecursively(folder);
				}
			}
		}
		return memory.resolve(PREFIX + ProcessHandle.current().pid());
	}

	private static String setting(String property) {
		String value = System.getProperty(property);
		if (!StringUtils.hasText(value)) {
			value = System.getenv(property.toUpperCase().replace('.', '_'));
		}
		return StringUtils.hasText(value) ? value : null;
	}

	/**
	 * The first question is cheap; the second one takes seconds where nobody answers.
	 */
	private static boolean engineAnswers() {
		return (System.getenv("DOCKER_HOST") != null || Files.exists(Path.of("/var/run/docker.sock")))
				&& DockerClientFactory.instance().isDockerAvailable();
	}

	/**
	 * A fresh database, migrated and otherwise empty.
	 */
	synchronized Database create() {
		String name = this.next.join();
		this.next = prepare();
		return new Database(name, url(name), this.service, this.owner);
	}

	/** A fresh database without any table. */
	Database createEmpty() {
		String name = "test_" + shortId();
		this.databases.add(name);
		execute("create database %s owner %s template template0 encoding 'UTF8' locale_provider builtin builtin_locale 'C.UTF-8' locale 'C'"
			.formatted(name, this.owner.name()));
		return new Database(name, url(name), this.service, this.owner);
	}

	private CompletableFuture<String> prepare() {
		return CompletableFuture.supplyAsync(() -> {
			String name = "test_" + shortId();
			this.databases.add(name);
			execute("create database %s owner %s template %s".formatted(name, this.owner.name(), this.template));
			return name;
		}, this.housekeeping);
	}

	void drop(Database database) {
		this.housekeeping.execute(() -> {
			execute("drop database if exists %s with (force)".formatted(database.name()));
			this.databases.remove(database.name());
		});
	}

	/** Ends all connections, and lets nobody in, as where the server is gone. */
	void lock(Database database) {
		execute("alter database %s allow_connections false".formatted(database.name()));
		execute("select pg_terminate_backend(pid, 10000) from pg_stat_activity where datname = '%s'"
			.formatted(database.name()));
	}

	void unlock(Database database) {
		execute("alter database %s allow_connections true".formatted(database.name()));
	}

	private void dropAll() {
		this.housekeeping.shutdownNow();
		try {
			this.databases.forEach((name) -> execute("drop database if exists %s with (force)".formatted(name)));
			execute("drop database if exists %s with (force)".formatted(this.template));
		}
		catch (IllegalStateException ex) {
			// an embedded server may be gone already, and its databases with it
		}
	}

	private void execute(String statement) {
		try (Connection connection = DriverManager.getConnection(url("postgres"), this.admin.name(),
				this.admin.password()); var sql = connection.createStatement()) {
			sql.execute(statement);
		}
		catch (SQLException ex) {
			throw new IllegalStateException(statement, ex);
		}
	}

	private String url(String database) {
		return this.urlFormat.formatted(database);
	}

	private static String shortId() {
		return UUID.randomUUID().toString().replace("-", "");
	}

	record Account(String name, String password) {
	}

	/**
	 * @param service who works with it
	 * @param owner who owns its tables
	 */
	record Database(String name, String url, Account service, Account owner) {
	}

}
