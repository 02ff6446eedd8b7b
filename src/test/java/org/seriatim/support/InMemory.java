package org.seriatim.support;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

import org.junit.jupiter.api.extension.AnnotatedElementContext;
import org.junit.jupiter.api.extension.ExtensionContext;
import org.junit.jupiter.api.io.TempDirFactory;

/**
 * Temporary folders in memory where the system offers them, for tests that write many
 * small files and care that each is flushed.
 */
public final class InMemory implements TempDirFactory {

	private static final Path MEMORY = Path.of("/dev/shm");

	private static final long ROOM = 2L << 30;

	/**
	 * Whether there is a folder in memory with room for a few databases.
	 */
	static boolean isRoomy() throws IOException {
		return Files.isWritable(MEMORY) && Files.getFileStore(MEMORY).getUsableSpace() > ROOM;
	}

	static Path folder() {
		return MEMORY;
	}

	@Override
	public Path createTempDirectory(AnnotatedElementContext element, ExtensionContext test) throws IOException {
		return isRoomy() ? Files.createTempDirectory(MEMORY, "junit") : Files.createTempDirectory("junit");
	}

}
