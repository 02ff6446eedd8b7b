package org.seriatim.shell;

import java.io.File;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.channels.FileChannel;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.UUID;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.stereotype.Component;
import org.springframework.util.FileSystemUtils;

/**
 * The folder of files that only pass through a service, such as uploads while they are
 * read. Each service on the data folder has one of its own, which goes with it; that of a
 * killed one goes when the next one starts, for no patient's data may lie about.
 * <p>
 * A folder is in use as long as somebody holds the operating system's lock on the file in
 * it. That lock ends with its process, however the process ends.
 */
@Component
@ConditionalOnWebApplication
public class PassingFiles implements DisposableBean {

	/** In the data folder, and in no backup. */
	public static final String FOLDER = "passing";

	private static final String LOCK = "lock";

	private static final Logger log = LoggerFactory.getLogger(PassingFiles.class);

	private final Path folder;

	private final FileChannel lock;

	PassingFiles(PassingSettings settings) {
		var all = settings.data().toAbsolutePath().normalize().resolve(FOLDER);
		this.folder = all.resolve(UUID.randomUUID().toString());
		try {
			Files.createDirectories(all, ownerOnly());
			this.lock = begin(all);
		}
		catch (IOException ex) {
			throw new UncheckedIOException("Uploads cannot be kept while they are read, in " + all, ex);
		}
	}

	/** One service at a time, so that none takes the folder of another for a leftover. */
	private FileChannel begin(Path all) throws IOException {
		synchronized (PassingFiles.class) {
			try (var one = open(all.resolve(LOCK)); var held = one.lock()) {
				log.debug("Begun under {}", held);
				removeLeftovers(all);
				Files.createDirectory(this.folder, ownerOnly());
				var own = open(this.folder.resolve(LOCK));
				own.lock();
				return own;
			}
		}
	}

	private static FileChannel open(Path file) throws IOException {
		return FileChannel.open(file, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
	}

	private static FileAttribute<?>[] ownerOnly() {
		return FileSystems.getDefault().supportedFileAttributeViews().contains("posix")
				? new FileAttribute<?>[] {
						PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rwx------")) }
				: new FileAttribute<?>[0];
	}

	private static void removeLeftovers(Path all) throws IOException {
		try (var folders = Files.newDirectoryStream(all, (entry) -> Files.isDirectory(entry))) {
			for (var other : folders) {
				if (isLeftover(other)) {
					log.info("What a service left that was killed is removed from {}", all);
					FileSystemUtils.deleteRecursively(other);
				}
			}
		}
	}

	private static boolean isLeftover(Path other) throws IOException {
		try (var channel = open(other.resolve(LOCK)); var held = channel.tryLock()) {
			return held != null;
		}
		catch (OverlappingFileLockException ex) {
			// of another service in this process, as in tests
			return false;
		}
	}

	/** A new folder in it. */
	public File folder(String name) {
		try {
			return Files.createDirectories(this.folder.resolve(name)).toFile();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	/** A new empty file in it, to be deleted when it was read. */
	public Path create(String ending) throws IOException {
		// somebody may have tidied up under a running service
		Files.createDirectories(this.folder, ownerOnly());
		return Files.createTempFile(this.folder, "", ending);
	}

	@Override
	public void destroy() throws IOException {
		this.lock.close();
		FileSystemUtils.deleteRecursively(this.folder);
	}

}
