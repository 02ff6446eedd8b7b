package org.seriatim.database;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import javax.sql.DataSource;

import org.springframework.boot.SpringApplication;
import org.springframework.boot.WebApplicationType;
import org.springframework.boot.autoconfigure.ImportAutoConfiguration;
import org.springframework.boot.flyway.autoconfigure.FlywayAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.DataSourceAutoConfiguration;

/**
 * A service in a process of its own, without pages, so that it can be stopped and killed.
 */
final class ServiceProcess implements AutoCloseable {

	private static final String READY = "ready";

	private final Process process;

	private final BufferedReader output;

	private ServiceProcess(Process process) {
		this.process = process;
		this.output = process.inputReader();
	}

	/**
	 * The database alone, for tests that do not care about the rest.
	 */
	static final class Database {

		private Database() {
		}

		public static void main(String[] arguments) throws IOException {
			EmbeddedDatabase.open(new DataSettings(Path.of(arguments[0]), false, null));
			System.out.println(READY);
			System.in.read();
		}

	}

	/**
	 * Never comes to the end of its start, but has its database by then.
	 */
	static final class Stuck {

		Stuck(DataSource database) throws InterruptedException {
			System.out.println(READY);
			new CountDownLatch(1).await();
		}

	}

	@ImportAutoConfiguration({ DatabaseAutoConfiguration.class, DataSourceAutoConfiguration.class,
			FlywayAutoConfiguration.class })
	static final class Service {

		private Service() {
		}

		public static void main(String[] arguments) throws IOException {
			SpringApplication application = new SpringApplication(Service.class);
			application.setWebApplicationType(WebApplicationType.NONE);
			if (List.of(arguments).contains("--stuck")) {
				application.addPrimarySources(List.of(Stuck.class));
			}
			application.run(arguments);
			System.out.println(READY);
			// until the test ends this process, or ends itself
			System.in.read();
		}

	}

	static ServiceProcess service(Path data, String... arguments) {
		List<String> all = new ArrayList<>(List.of("--seriatim.data=" + data, "--spring.datasource.url="));
		all.addAll(List.of(arguments));
		return launch(Service.class, all);
	}

	static ServiceProcess database(Path data) {
		return launch(Database.class, List.of(data.toString()));
	}

	private static ServiceProcess launch(Class<?> main, List<String> arguments) {
		String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
		List<String> command = new ArrayList<>(List.of(java, "-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-cp",
				System.getProperty("java.class.path"), main.getName()));
		command.addAll(arguments);
		try {
			return new ServiceProcess(new ProcessBuilder(command).start());
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	ServiceProcess ready() throws IOException {
		for (String line = this.output.readLine(); line != null; line = this.output.readLine()) {
			if (line.equals(READY)) {
				return this;
			}
		}
		throw new IllegalStateException("The service did not start: " + errors());
	}

	int awaitExit() throws InterruptedException {
		if (!this.process.waitFor(1, TimeUnit.MINUTES)) {
			throw new IllegalStateException("The process does not end");
		}
		return this.process.exitValue();
	}

	String output() {
		return String.join("\n", this.output.lines().toList());
	}

	/**
	 * What it says on standard error, without what the logging library says of itself
	 * where two threads log first at the same moment, as on a busy machine.
	 */
	String errors() {
		return this.process.errorReader()
			.lines()
			.filter((line) -> !line.startsWith("SLF4J("))
			.collect(Collectors.joining("\n"));
	}

	/** As an operator or the operating system stops it. */
	void stop() throws InterruptedException {
		this.process.destroy();
		awaitExit();
	}

	/** As nobody should, and as the system does when memory runs out. */
	void kill() throws InterruptedException {
		this.process.destroyForcibly();
		awaitExit();
	}

	long pid() {
		return this.process.pid();
	}

	@Override
	public void close() {
		this.process.destroyForcibly();
	}

}
