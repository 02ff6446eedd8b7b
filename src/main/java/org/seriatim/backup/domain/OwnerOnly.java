package org.seriatim.backup.domain;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Set;

/** Files and folders that only the account of the service may open, from the first. */
final class OwnerOnly {

	private static final boolean POSIX = FileSystems.getDefault().supportedFileAttributeViews().contains("posix");

	private OwnerOnly() {
	}

	static Path folder(Path folder) throws IOException {
		return Files.isDirectory(folder) ? folder : Files.createDirectories(folder, attributes("rwx------"));
	}

	static FileChannel create(Path file) throws IOException {
		return FileChannel.open(file, Set.of(StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE),
				attributes("rw-------"));
	}

	/**
	 * What was created, moved or deleted in the folder stays so after a power failure.
	 */
	static void settle(Path folder) throws IOException {
		if (POSIX) {
			try (var channel = FileChannel.open(folder, StandardOpenOption.READ)) {
				channel.force(true);
			}
		}
	}

	private static FileAttribute<?>[] attributes(String permissions) {
		return POSIX
				? new FileAttribute<?>[] {
						PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(permissions)) }
				: new FileAttribute<?>[0];
	}

}
