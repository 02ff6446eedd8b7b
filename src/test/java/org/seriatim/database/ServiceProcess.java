package org.seriatim.database;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

import org.springframework.boot.SpringApplication;
import org.springframework.boot.WebApplicationType;
import org.springframework.boot.autoconfigure.ImportAutoConfiguration;
import org.springframework.boot.flyway.autoconfigure.FlywayAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.DataSourceAutoConfiguration;

/**
 * A service in a process of its own, with database, pool and migrations but without
 * pages, so that it can be stopped and killed.
 */
final class ServiceProcess implements AutoCloseable {

	private static final String READY = "ready";

	private final Process process;

	private final BufferedReader output;

	private ServiceProcess(Process process) {
		this.process = process;
		this.output = process.inputReader();
	}

	@ImportAutoConfiguration({ DatabaseAutoConfiguration.class, DataSourceAutoConfiguration.class,
			FlywayAutoConfiguration.class })
	static final class Service {

		private Service() {
		}

		public static void main(String[] arguments) throws IOException {
			SpringApplication application = new SpringApplication(Service.class);
			application.setWebApplicationType(WebApplicationType.NONE);
			application.run(arguments);
			System.out.println(READY);
			// until the test ends this process, or ends itself
			System.in.read();
		}

	}

	static ServiceProcess launch(Path data, String... arguments) {
		String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
		List<String> command = new ArrayList<>(List.of(java, "-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-cp",
				System.getProperty("java.class.path"), Service.class.getName(), "--seriatim.data=" + data));
		command.addAll(List.of(arguments));
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

	String errors() {
		return String.join("\n", this.process.errorReader().lines().toList());
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
