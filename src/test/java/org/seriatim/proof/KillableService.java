package org.seriatim.proof;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;

import org.seriatim.SeriatimApplication;

/**
 * The service in a process of its own, started as an operator's supervisor starts it: on
 * one port, and again after each end.
 */
final class KillableService implements AutoCloseable {

	private static final Duration PATIENCE = Duration.ofMinutes(5);

	private static final int COMMAND_HEAP_MB = 512;

	private static final long LOOK_AGAIN = TimeUnit.MILLISECONDS.toNanos(50);

	private final HttpClient http = HttpClient.newBuilder().connectTimeout(Duration.ofSeconds(2)).build();

	private final Path data;

	private final Path log;

	private final int port = freePort();

	/** Of the machine that runs it; quick compilation, since most live for seconds. */
	private final List<String> machine;

	private final List<String> properties;

	private Process process;

	/**
	 * @param heapMb the most memory that objects may take, in MiB
	 */
	KillableService(Path data, int heapMb, String... properties) {
		this(briefly(heapMb), data, properties);
	}

	/**
	 * @param machine options of the Java machine
	 */
	KillableService(List<String> machine, Path data, String... properties) {
		this.data = data;
		this.log = data.resolveSibling(data.getFileName() + "-" + this.port + ".log");
		this.machine = machine;
		this.properties = List.of(properties);
	}

	private static List<String> briefly(int heapMb) {
		return List.of("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-Xmx" + heapMb + "m");
	}

	static int freePort() {
		try (var socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
			return socket.getLocalPort();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	/**
	 * Starts it and waits until it is well.
	 * @return how long that took
	 */
	Duration start() {
		var arguments = new ArrayList<>(List.of("--server.port=" + this.port, "--seriatim.data=" + this.data,
				"--seriatim.requests.of-account=1000000", "--seriatim.requests.of-address=1000000"));
		arguments.addAll(this.properties);
		this.process = launch(this.machine, arguments, ProcessBuilder.Redirect.appendTo(this.log.toFile()));
		return awaitWell();
	}

	private static Process launch(List<String> machine, List<String> arguments, ProcessBuilder.Redirect output) {
		var command = new ArrayList<>(List.of(Path.of(System.getProperty("java.home"), "bin", "java").toString()));
		command.addAll(machine);
		command.addAll(List.of("-Djava.awt.headless=true", "-cp", System.getProperty("java.class.path"),
				SeriatimApplication.class.getName()));
		command.addAll(arguments);
		try {
			return new ProcessBuilder(command).redirectErrorStream(true).redirectOutput(output).start();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	/**
	 * Waits until the service and its database answer.
	 * @return how long that took
	 */
	Duration awaitWell() {
		var begun = System.nanoTime();
		while (!isWell()) {
			if (!this.process.isAlive() || System.nanoTime() - begun > PATIENCE.toNanos()) {
				throw new IllegalStateException("The service is not well:\n" + lastWords());
			}
			LockSupport.parkNanos(LOOK_AGAIN);
		}
		return Duration.ofNanos(System.nanoTime() - begun);
	}

	boolean isWell() {
		try {
			var request = HttpRequest.newBuilder(URI.create(address("/actuator/health")))
				.timeout(Duration.ofSeconds(15))
				.build();
			return this.http.send(request, BodyHandlers.discarding()).statusCode() == 200;
		}
		catch (IOException ex) {
			return false;
		}
		catch (InterruptedException ex) {
			Thread.currentThread().interrupt();
			return false;
		}
	}

	/** Ends it as the system does when memory runs out: it is told nothing. */
	void kill() {
		end(this.process.destroyForcibly());
	}

	String address(String path) {
		return "http://127.0.0.1:" + this.port + path;
	}

	Path data() {
		return this.data;
	}

	long pid() {
		return this.process.pid();
	}

	/** What a command says that runs on the same folder beside the service. */
	String command(String... words) {
		var arguments = new ArrayList<>(List.of("--seriatim.data=" + this.data));
		this.properties.stream()
			.filter((property) -> property.startsWith("--spring.datasource") || property.startsWith("--spring.flyway"))
			.forEach(arguments::add);
		arguments.addAll(List.of(words));
		var command = launch(briefly(COMMAND_HEAP_MB), arguments, ProcessBuilder.Redirect.PIPE);
		var output = String.join("\n", command.inputReader().lines().toList());
		end(command);
		return "exit " + command.exitValue() + ": " + output;
	}

	String lastWords() {
		try {
			var lines = Files.readAllLines(this.log);
			return String.join("\n", lines.subList(Math.max(0, lines.size() - 60), lines.size()));
		}
		catch (IOException ex) {
			return ex.toString();
		}
	}

	/** The errors that it wrote down, without their traces. */
	List<String> errors() {
		try (var lines = Files.lines(this.log)) {
			return lines.filter((line) -> line.contains(" ERROR ")).toList();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private static void end(Process process) {
		try {
			if (!process.waitFor(90, TimeUnit.SECONDS)) {
				process.destroyForcibly();
			}
		}
		catch (InterruptedException ex) {
			process.destroyForcibly();
			Thread.currentThread().interrupt();
		}
	}

	@Override
	public void close() {
		if (this.process != null) {
			this.process.destroy();
			end(this.process);
		}
	}

}
