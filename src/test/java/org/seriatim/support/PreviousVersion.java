package org.seriatim.support;

import java.io.BufferedReader;
import java.io.File;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * The version before this one, in a process of its own: its compiled classes take the
 * place of this version's on the class path, and everything else is the same.
 */
public final class PreviousVersion implements AutoCloseable {

	private static final String STARTED = "Started SeriatimApplication";

	private final Process process;

	private final int port;

	private final StringBuffer output = new StringBuffer();

	private final CompletableFuture<Boolean> started = new CompletableFuture<>();

	private PreviousVersion(Process process, int port) {
		this.process = process;
		this.port = port;
		var reader = new Thread(this::read, "output of the previous version");
		reader.setDaemon(true);
		reader.start();
	}

	/**
	 * Starts it on the database of some services, and waits until it answers or has
	 * ended.
	 */
	public static PreviousVersion start(Path classes, ServicesOnOneDatabase services) {
		int port = freePort();
		String own = Path.of("target").toAbsolutePath().toString();
		String classPath = Stream
			.concat(Stream.of(classes.toString()),
					Arrays.stream(System.getProperty("java.class.path").split(File.pathSeparator))
						.filter((entry) -> !Path.of(entry).toAbsolutePath().toString().startsWith(own)))
			.collect(Collectors.joining(File.pathSeparator));
		var command = new ArrayList<>(
				List.of(Path.of(System.getProperty("java.home"), "bin", "java").toString(), "-XX:TieredStopAtLevel=1",
						"-XX:+UseSerialGC", "-Xmx512m", "-cp", classPath, "org.seriatim.SeriatimApplication"));
		command.addAll(services.settings());
		command.add("--server.port=" + port);
		try {
			var previous = new PreviousVersion(new ProcessBuilder(command).redirectErrorStream(true).start(), port);
			previous.started.orTimeout(3, TimeUnit.MINUTES).join();
			return previous;
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private void read() {
		try (BufferedReader lines = this.process.inputReader()) {
			for (String line = lines.readLine(); line != null; line = lines.readLine()) {
				this.output.append(line).append('\n');
				if (line.contains(STARTED)) {
					this.started.complete(true);
				}
			}
		}
		catch (IOException ex) {
			this.output.append(ex);
		}
		this.started.complete(false);
	}

	public boolean isRunning() {
		return this.started.join() && this.process.isAlive();
	}

	public String address() {
		return "http://localhost:" + this.port;
	}

	/** What it has said so far. */
	public String output() {
		return this.output.toString();
	}

	private static int freePort() {
		try (var socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
			return socket.getLocalPort();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
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
