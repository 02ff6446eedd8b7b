package org.seriatim.database;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.locks.LockSupport;

import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

import org.seriatim.database.RecordsDatabase.Access;
import org.seriatim.support.InMemory;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

class EmbeddedDatabaseTests {

	/** Lines of PostgreSQL's lock file. */
	private static final int SOCKET_FOLDER = 4;

	private static final int ADDRESS = 5;

	private static final Duration NO_PATIENCE = Duration.ZERO;

	private static DataSettings service(Path data) {
		return new DataSettings(data, false, null);
	}

	private static DataSettings command(Path data) {
		return new DataSettings(data, true, null);
	}

	private static void execute(EmbeddedDatabase database, String... statements) throws SQLException {
		try (Connection connection = connect(database); var statement = connection.createStatement()) {
			for (String text : statements) {
				statement.execute(text);
			}
		}
	}

	private static String ask(EmbeddedDatabase database, String question) throws SQLException {
		try (Connection connection = connect(database);
				var statement = connection.createStatement();
				var answer = statement.executeQuery(question)) {
			answer.next();
			return answer.getString(1);
		}
	}

	private static Connection connect(EmbeddedDatabase database) throws SQLException {
		return DriverManager.getConnection(database.jdbcUrl(), database.owner(), database.passwordOfOwner());
	}

	private static ProcessHandle postmaster(Path data) throws IOException {
		String pid = Files.readAllLines(data.resolve("postgresql/postmaster.pid")).get(0);
		return ProcessHandle.of(Long.parseLong(pid)).orElseThrow();
	}

	private static String logs(Path data) throws IOException {
		StringBuilder text = new StringBuilder();
		try (var logs = Files.newDirectoryStream(data.resolve("logs"))) {
			for (Path log : logs) {
				text.append(Files.readString(log));
			}
		}
		return text.toString();
	}

	@Nested
	@TestInstance(Lifecycle.PER_CLASS)
	class WhileItRuns {

		private Path data;

		private EmbeddedDatabase database;

		@BeforeAll
		void start(@TempDir(factory = InMemory.class) Path data) {
			this.data = data;
			this.database = EmbeddedDatabase.open(service(this.data));
		}

		@AfterAll
		void stop() {
			this.database.close();
		}

		@ParameterizedTest
		@CsvSource({ "fsync, on", "synchronous_commit, on", "full_page_writes, on" })
		void anAcknowledgedWriteSurvivesAPowerFailure(String setting, String value) throws SQLException {
			assertThat(ask(this.database, "show " + setting)).isEqualTo(value);
			// stronger than every configuration file
			assertThat(ask(this.database, "select source from pg_settings where name = '%s'".formatted(setting)))
				.isEqualTo("command line");
		}

		@Test
		void noticesADamagedPage() throws SQLException {
			assertThat(ask(this.database, "show data_checksums")).isEqualTo("on");
		}

		@Test
		void listensOnTheLoopbackAddressOnly() throws SQLException, IOException {
			assertThat(ask(this.database, "show listen_addresses")).isEqualTo("127.0.0.1");
			List<String> lock = Files.readAllLines(this.data.resolve("postgresql/postmaster.pid"));
			assertThat(lock.get(SOCKET_FOLDER)).isEmpty();
			assertThat(lock.get(ADDRESS)).isEqualTo("127.0.0.1");
		}

		@ParameterizedTest
		@CsvSource({ "seriatim, ''", "seriatim, wrong", "seriatim_service, ''", "seriatim_service, wrong",
				"postgres, ''", "postgres, wrong" })
		void letsNobodyInWithoutThePassword(String user, String password) {
			assertThatExceptionOfType(SQLException.class)
				.isThrownBy(() -> DriverManager.getConnection(this.database.jdbcUrl(), user, password).close())
				.withMessageContaining("password");
		}

		@Test
		void theOwnerMayNotLeaveTheDatabase() throws SQLException {
			assertThat(ask(this.database, "select rolsuper or rolcreatedb or rolcreaterole or rolreplication "
					+ "or rolbypassrls from pg_roles where rolname = current_user"))
				.isEqualTo("f");
			assertThatExceptionOfType(SQLException.class)
				.isThrownBy(() -> execute(this.database, "copy (select 1) to program 'cat'"));
		}

		@ParameterizedTest
		@CsvSource({ "postgresql, rwx------", "logs, rwx------", "service.properties, rw-------",
				"service.lock, rw-------", "postgresql/credentials.properties, rw-------" })
		void otherAccountsCannotReadWhatItKeeps(String file, String permissions) throws IOException {
			assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(this.data.resolve(file))))
				.isEqualTo(permissions);
		}

		@Test
		void leavesNoPasswordElsewhere() throws IOException {
			try (var files = Files.list(this.data)) {
				assertThat(files.map((file) -> file.getFileName().toString())).containsExactlyInAnyOrder("postgresql",
						"logs", "service.lock", "service.properties");
			}
			assertThat(Files.readString(this.data.resolve("service.properties")))
				.doesNotContain(this.database.password(), this.database.passwordOfOwner());
			assertThat(ProcessHandle.allProcesses().flatMap((process) -> process.info().commandLine().stream()))
				.noneMatch((line) -> line.contains(this.database.password())
						|| line.contains(this.database.passwordOfOwner()));
		}

		@ParameterizedTest
		@ValueSource(strings = { "insert into person values ('Ysolde'), ('Ysolde')", "select cast('Ysolde' as integer)",
				"select 'Ysolde' from nowhere", "do $$ begin raise warning 'Ysolde'; end $$",
				"do $$ begin raise exception 'Ysolde'; end $$" })
		void logsNoPatientsData(String statement) throws SQLException, IOException {
			execute(this.database, "create table if not exists person (name text primary key)");
			try {
				execute(this.database, statement);
			}
			catch (SQLException refused) {
				// as most of them should be
			}
			assertThat(logs(this.data)).isNotEmpty().doesNotContain("Ysolde");
		}

		@Test
		void refusesASecondService() throws SQLException {
			assertThatExceptionOfType(RecordsUnavailable.class)
				.isThrownBy(() -> EmbeddedDatabase.open(service(this.data)))
				.withMessageContaining("process " + ProcessHandle.current().pid())
				.withMessageContaining(this.data.toString());
			assertThat(ask(this.database, "select 1")).isEqualTo("1");
		}

		@Test
		void letsACommandJoinAndOutlastsIt() throws SQLException {
			try (EmbeddedDatabase joined = EmbeddedDatabase.open(command(this.data))) {
				assertThat(joined.access()).isEqualTo(Access.JOINED);
				execute(joined, "create table written (by text)", "insert into written values ('command')");
			}
			assertThat(ask(this.database, "select by from written")).isEqualTo("command");
		}

	}

	@Nested
	class FromStartToStart {

		@TempDir(factory = InMemory.class)
		Path data;

		@Test
		void keepsWhatWasWritten() throws SQLException {
			try (EmbeddedDatabase database = EmbeddedDatabase.open(service(this.data))) {
				execute(database, "create table note (text text)", "insert into note values ('kept')");
			}
			assertThat(this.data.resolve("service.properties")).doesNotExist();
			assertThat(this.data.resolve("postgresql/postmaster.pid")).doesNotExist();
			try (EmbeddedDatabase database = EmbeddedDatabase.open(service(this.data))) {
				assertThat(database.access()).isEqualTo(Access.STARTED);
				assertThat(ask(database, "select text from note")).isEqualTo("kept");
			}
		}

		@Test
		void givesTheServiceOfAnEarlierVersionItsOwnRole() throws IOException, SQLException {
			try (EmbeddedDatabase database = EmbeddedDatabase.open(service(this.data))) {
				execute(database, "create table note (text text)", "insert into note values ('kept')");
			}
			// as an earlier version left it; an interrupted attempt may have made the
			// role
			Path passwords = this.data.resolve("postgresql/credentials.properties");
			Files.write(passwords,
					Files.readAllLines(passwords)
						.stream()
						.filter((line) -> !line.startsWith("seriatim_service"))
						.toList());
			try (EmbeddedDatabase database = EmbeddedDatabase.open(service(this.data));
					Connection service = DriverManager.getConnection(database.jdbcUrl(), database.user(),
							database.password());
					var statement = service.createStatement()) {
				assertThat(ask(database, "select text from note")).isEqualTo("kept");
				assertThatExceptionOfType(SQLException.class).isThrownBy(() -> statement.execute("delete from note"))
					.withMessageContaining("permission denied");
			}
		}

		@Test
		void beginsAgainWhereAFirstStartWasInterrupted() throws IOException, SQLException {
			Files.createDirectories(this.data.resolve("postgresql.draft/base"));
			Files.writeString(this.data.resolve("postgresql.draft/PG_VERSION"), "18");
			try (EmbeddedDatabase database = EmbeddedDatabase.open(service(this.data))) {
				assertThat(ask(database, "select current_database()")).isEqualTo("seriatim");
			}
			assertThat(this.data.resolve("postgresql.draft")).doesNotExist();
		}

		@Test
		void startsBesideTheStaleLockOfAnotherProcess() throws IOException, InterruptedException, SQLException {
			EmbeddedDatabase.open(service(this.data)).close();
			Process unrelated = new ProcessBuilder("cat").start();
			try {
				Files.writeString(this.data.resolve("postgresql/postmaster.pid"),
						"%d%n%s%n1700000000%n5432%n".formatted(unrelated.pid(), this.data.resolve("postgresql")));
				try (EmbeddedDatabase database = EmbeddedDatabase.open(service(this.data))) {
					assertThat(ask(database, "select 1")).isEqualTo("1");
				}
				assertThat(unrelated.isAlive()).isTrue();
			}
			finally {
				unrelated.destroy();
			}
		}

		@Test
		void refusesTheRecordsOfAnotherVersion() throws IOException {
			Files.createDirectories(this.data.resolve("postgresql"));
			Files.writeString(this.data.resolve("postgresql/PG_VERSION"), "17\n");
			assertThatExceptionOfType(RecordsUnavailable.class)
				.isThrownBy(() -> EmbeddedDatabase.open(service(this.data)))
				.withMessageContaining("written by PostgreSQL 17")
				.withMessageContaining("brings PostgreSQL 18");
			assertThat(this.data.resolve("postgresql")).isDirectoryNotContaining("glob:**postmaster*");
		}

		@Test
		void refusesAFolderThatIsNoDatabase() throws IOException {
			Files.createDirectories(this.data.resolve("postgresql"));
			assertThatExceptionOfType(RecordsUnavailable.class)
				.isThrownBy(() -> EmbeddedDatabase.open(service(this.data)))
				.withMessageContaining("is no database");
		}

		@Test
		void saysWhatTheServerSaidWhenItDoesNotStart() throws IOException {
			EmbeddedDatabase.open(service(this.data)).close();
			Files.delete(this.data.resolve("postgresql/global/pg_control"));
			assertThatExceptionOfType(RecordsUnavailable.class)
				.isThrownBy(() -> EmbeddedDatabase.open(service(this.data)))
				.withMessageContaining("could not find the database system")
				.withMessageContaining(this.data.resolve("logs").toString());
		}

	}

	@Nested
	class ForCommands {

		@TempDir(factory = InMemory.class)
		Path data;

		@Test
		void startsForOneCommandAndMakesTheNextWait() throws SQLException {
			CompletableFuture<String> next;
			try (EmbeddedDatabase first = EmbeddedDatabase.open(command(this.data))) {
				assertThat(first.access()).isEqualTo(Access.STARTED);
				assertThatExceptionOfType(RecordsUnavailable.class)
					.isThrownBy(() -> EmbeddedDatabase.open(command(this.data), NO_PATIENCE))
					.withMessageContaining("(" + ProcessHandle.current().pid() + ")");
				assertThatExceptionOfType(RecordsUnavailable.class)
					.isThrownBy(() -> EmbeddedDatabase.open(service(this.data), NO_PATIENCE))
					.withMessageContaining("(" + ProcessHandle.current().pid() + ")");
				next = CompletableFuture.supplyAsync(() -> {
					try (EmbeddedDatabase second = EmbeddedDatabase.open(command(this.data))) {
						return ask(second, "select by from written");
					}
					catch (SQLException ex) {
						throw new IllegalStateException(ex);
					}
				});
				execute(first, "create table written (by text)", "insert into written values ('first')");
			}
			assertThat(next.join()).isEqualTo("first");
		}

	}

	@Nested
	class AsAProcess {

		@TempDir(factory = InMemory.class)
		Path data;

		@Test
		void isRefusedInOneParagraphWhereAnotherServes() throws Exception {
			try (ServiceProcess first = ServiceProcess.service(this.data).ready();
					ServiceProcess second = ServiceProcess.service(this.data)) {
				assertThat(second.awaitExit()).isEqualTo(1);
				assertThat(second.errors()).startsWith("Another Seriatim (process " + first.pid() + ") already serves")
					.doesNotContain("\n");
				assertThat(second.output()).doesNotContain("Exception").doesNotContain("\tat ");
				try (ServiceProcess command = ServiceProcess.service(this.data, "--seriatim.command=true").ready()) {
					command.stop();
				}
				assertThat(postmaster(this.data).isAlive()).isTrue();
				first.stop();
				assertThat(this.data.resolve("postgresql/postmaster.pid")).doesNotExist();
				assertThat(this.data.resolve("service.properties")).doesNotExist();
			}
		}

		@Test
		void stopsItsDatabaseWhenStoppedBeforeItHasStarted() throws Exception {
			try (ServiceProcess service = ServiceProcess.service(this.data, "--stuck").ready()) {
				assertThat(postmaster(this.data).isAlive()).isTrue();
				service.stop();
				assertThat(this.data.resolve("postgresql/postmaster.pid")).doesNotExist();
			}
		}

		@Test
		void startsAgainAfterItsProcessWasKilled() throws Exception {
			ServiceProcess service = ServiceProcess.database(this.data).ready();
			write("kept");
			ProcessHandle leftBehind = postmaster(this.data);
			service.kill();
			assertThat(leftBehind.isAlive()).isTrue();
			try (EmbeddedDatabase database = EmbeddedDatabase.open(service(this.data))) {
				assertThat(postmaster(this.data)).isNotEqualTo(leftBehind);
				assertThat(logs(this.data)).contains("received fast shutdown request")
					.doesNotContain("not properly shut down");
				assertThat(ask(database, "select text from note")).isEqualTo("kept");
			}
		}

		@Test
		void startsAgainAfterEverythingWasKilled() throws Exception {
			ServiceProcess service = ServiceProcess.database(this.data).ready();
			write("kept");
			ProcessHandle server = postmaster(this.data);
			server.destroyForcibly();
			service.kill();
			try (EmbeddedDatabase database = EmbeddedDatabase.open(service(this.data))) {
				assertThat(logs(this.data)).contains("not properly shut down");
				assertThat(ask(database, "select text from note")).isEqualTo("kept");
			}
		}

		@Test
		void startsItsDatabaseAgainWhereItsClientsLookForIt() throws Exception {
			try (EmbeddedDatabase database = EmbeddedDatabase.open(service(this.data))) {
				execute(database, "create table note (text text)", "insert into note values ('kept')");
				ProcessHandle killed = postmaster(this.data);
				killed.destroyForcibly();
				killed.onExit().join();
				assertThat(untilItAnswers(database, "select text from note")).isEqualTo("kept");
				assertThat(postmaster(this.data)).isNotEqualTo(killed);
			}
			assertThat(this.data.resolve("postgresql/postmaster.pid")).doesNotExist();
		}

		private static String untilItAnswers(EmbeddedDatabase database, String question) throws SQLException {
			long deadline = System.nanoTime() + Duration.ofMinutes(1).toNanos();
			while (true) {
				try {
					return ask(database, question);
				}
				catch (SQLException ex) {
					if (System.nanoTime() > deadline) {
						throw ex;
					}
					LockSupport.parkNanos(Duration.ofMillis(50).toNanos());
				}
			}
		}

		private void write(String text) throws SQLException {
			try (EmbeddedDatabase joined = EmbeddedDatabase.open(command(this.data))) {
				execute(joined, "create table note (text text)", "insert into note values ('%s')".formatted(text));
			}
		}

	}

}
