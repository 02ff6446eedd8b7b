package org.seriatim.browser;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;

import org.springframework.util.FileSystemUtils;

/**
 * The invented clinic, served once for all browser tests of a process: what it takes
 * longest to is its start. Tests that share it leave each other's staff signed in and do
 * not count what others may add to.
 */
final class DemoClinic {

	private static final String DEMO = "--spring.profiles.active=demo";

	private static RunningService service;

	private DemoClinic() {
	}

	/** The service; it ends with the process. */
	static synchronized RunningService running() {
		if (service == null) {
			var data = dataFolder();
			service = RunningService.start(data, DEMO);
			Runtime.getRuntime().addShutdownHook(new Thread(() -> end(data), "end of the demo clinic"));
		}
		return service;
	}

	/** Ends it as a power cut would, and starts it again under the same address. */
	static synchronized void killAndStartAgain(Runnable meanwhile) throws InterruptedException {
		service.kill();
		meanwhile.run();
		service = service.startedAgain(DEMO);
	}

	private static void end(Path data) {
		service.close();
		try {
			FileSystemUtils.deleteRecursively(data);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private static Path dataFolder() {
		try {
			return Files.createTempDirectory("seriatim-demo");
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

}
