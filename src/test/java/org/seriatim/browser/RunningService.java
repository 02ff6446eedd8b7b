package org.seriatim.browser;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;

import org.seriatim.SeriatimApplication;

/** The service in a process of its own, started as an operator starts it. */
final class RunningService implements AutoCloseable {

	private static final String SETUP_CODE = "Setup code: ";

	private static final String STARTED = "Started SeriatimApplication";

	private final Process process;

	private final Path data;

	private final int port;

	private final CompletableFuture<String> setupCode = new CompletableFuture<>();

	private final CompletableFuture<Void> started = new CompletableFuture<>();

	private RunningService(Process process, Path data, int port) {
		this.process = process;
		this.data = data;
		this.port = port;
		var reader = new Thread(this::read, "service output");
		reader.setDaemon(true);
		reader.start();
	}

	/**
	 * Starts a service whose records lie under the folder, and waits until it answers.
	 */
	static RunningService start(Path data, String... properties) {
		return start(freePort(), data, properties);
	}

	private static RunningService start(int port, Path data, String... properties) {
		// the class path of the tests is quiet about a start that went well
		var arguments = new ArrayList<>(List.of("--server.port=" + port, "--seriatim.data=" + data,
				"--logging.level." + SeriatimApplication.class.getName() + "=info"));
		arguments.addAll(List.of(properties));
		var service = new RunningService(launch(arguments), data, port);
		try {
			service.started.orTimeout(6, TimeUnit.MINUTES).join();
		}
		catch (RuntimeException ex) {
			service.close();
			throw ex;
		}
		return service;
	}

	private static Process launch(List<String> arguments) {
		var command = new ArrayList<>(List.of(Path.of(System.getProperty("java.home"), "bin", "java").toString(),
				"-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-Xmx512m", "-cp", System.getProperty("java.class.path"),
				SeriatimApplication.class.getName()));
		command.addAll(arguments);
		try {
			return new ProcessBuilder(command).redirectErrorStream(true).start();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private static int freePort() {
		try (var socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
			return socket.getLocalPort();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private void read() {
		var output = new StringBuilder();
		try (BufferedReader lines = this.process.inputReader()) {
			for (String line = lines.readLine(); line != null; line = lines.readLine()) {
				output.append(line).append('\n');
				if (line.startsWith(SETUP_CODE)) {
					this.setupCode.complete(line.substring(SETUP_CODE.length()));
				}
				if (line.contains(STARTED)) {
					this.started.complete(null);
				}
			}
		}
		catch (IOException ex) {
			output.append(ex);
		}
		this.started.completeExceptionally(new IllegalStateException("The service ended:\n" + output));
	}

	/** Starts one that has ended again, under the same address. */
	RunningService startedAgain(String... properties) {
		return start(this.port, this.data, properties);
	}

	/** Ends the service as a power cut would: it is told nothing. */
	void kill() throws InterruptedException {
		this.process.destroyForcibly().waitFor(30, TimeUnit.SECONDS);
	}

	/** The code that the console shows while there is no administrator. */
	String setupCode() {
		return this.setupCode.orTimeout(1, TimeUnit.MINUTES).join();
	}

	String address(String path) {
		return "http://localhost:" + this.port + path;
	}

	/** What a command prints that runs on the same data folder beside the service. */
	String command(String... words) throws InterruptedException {
		var arguments = new ArrayList<>(List.of("--seriatim.data=" + this.data));
		arguments.addAll(List.of(words));
		var command = launch(arguments);
		var output = String.join("\n", command.inputReader().lines().toList());
		if (!command.waitFor(2, TimeUnit.MINUTES) || command.exitValue() != 0) {
			throw new IllegalStateException("The command was refused:\n" + output);
		}
		return output;
	}

	@Override
	public void close() {
		this.process.destroy();
		try {
			if (!this.process.waitFor(30, TimeUnit.SECONDS)) {
				this.process.destroyForcibly();
			}
		}
		catch (InterruptedException ex) {
			Thread.currentThread().interrupt();
		}
	}

}
