package org.seriatim.database;

import java.io.IOException;
import java.io.StringWriter;
import java.nio.channels.Channels;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Properties;
import java.util.Set;

/**
 * Files and folders that only the account of the service may open. They are created so;
 * there is no moment at which another account could have opened them. Where the file
 * system has no such permissions (Windows), those of the enclosing folder hold.
 */
final class OwnerOnly {

	private static final boolean POSIX = FileSystems.getDefault().supportedFileAttributeViews().contains("posix");

	private OwnerOnly() {
	}

	static Path folder(Path folder) throws IOException {
		return Files.isDirectory(folder) ? folder : Files.createDirectories(folder, attributes("rwx------"));
	}

	static FileChannel open(Path file) throws IOException {
		return FileChannel.open(file,
				Set.of(StandardOpenOption.CREATE, StandardOpenOption.READ, StandardOpenOption.WRITE),
				attributes("rw-------"));
	}

	static void write(Path file, Properties content) throws IOException {
		StringWriter text = new StringWriter();
		content.store(text, null);
		write(file, text.toString());
	}

	/**
	 * Replaces a file as a whole: a reader sees the old content or the new one, also
	 * after a power failure.
	 */
	static void write(Path file, String content) throws IOException {
		Path draft = file.resolveSibling(file.getFileName() + ".draft");
		Files.deleteIfExists(draft);
		try (FileChannel channel = FileChannel.open(draft,
				Set.of(StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE), attributes("rw-------"))) {
			Channels.newOutputStream(channel).write(content.getBytes(StandardCharsets.UTF_8));
			channel.force(true);
		}
		Files.move(draft, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
	}

	static Properties read(Path file) throws IOException {
		Properties content = new Properties();
		try (var in = Files.newBufferedReader(file)) {
			content.load(in);
		}
		return content;
	}

	private static FileAttribute<?>[] attributes(String permissions) {
		if (!POSIX) {
			return new FileAttribute<?>[0];
		}
		return new FileAttribute<?>[] {
				PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(permissions)) };
	}

}
