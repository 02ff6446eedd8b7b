package org.seriatim.database;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Path;
import java.util.Optional;

/**
 * The folder of everything that the embedded mode keeps.
 * <p>
 * At most one process works on it at a time: the one that holds the lock of the operating
 * system on {@code service.lock}. That lock ends with its process, however the process
 * ends, so nobody has to guess whether an entry left behind in a file still means
 * something.
 */
final class DataFolder {

	private final Path path;

	private DataFolder(Path path) {
		this.path = path;
	}

	static DataFolder at(Path path) {
		Path absolute = path.toAbsolutePath().normalize();
		try {
			OwnerOnly.folder(absolute);
			// one name for one folder, whatever links lead to it
			return new DataFolder(absolute.toRealPath());
		}
		catch (IOException ex) {
			throw new RecordsUnavailable("The data folder %s cannot be made or opened (%s). Name another one with "
				.formatted(absolute, reason(ex)) + "seriatim.data, or give this account the right to write there.", ex);
		}
	}

	/**
	 * Takes the folder for this process, unless another one works on it.
	 */
	Optional<Hold> tryHold() {
		FileChannel channel = null;
		try {
			channel = OwnerOnly.open(lockFile());
			FileLock lock = channel.tryLock();
			if (lock != null) {
				return Optional.of(new Hold(channel));
			}
			channel.close();
			return Optional.empty();
		}
		catch (OverlappingFileLockException ex) {
			close(channel);
			return Optional.empty();
		}
		catch (IOException ex) {
			close(channel);
			throw new RecordsUnavailable("The data folder %s cannot be used: its file %s cannot be locked (%s). "
				.formatted(this.path, lockFile().getFileName(), reason(ex))
					+ "Give this account the right to write there; on a network file system without locks, "
					+ "use a local disk.", ex);
		}
	}

	private static void close(FileChannel channel) {
		try {
			if (channel != null) {
				channel.close();
			}
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private static String reason(IOException ex) {
		return ex.getClass().getSimpleName() + ": " + ex.getMessage();
	}

	Path path() {
		return this.path;
	}

	/** The database cluster, in PostgreSQL's own format. */
	Path cluster() {
		return this.path.resolve("postgresql");
	}

	/** What PostgreSQL has to say. */
	Path logs() {
		return this.path.resolve("logs");
	}

	/** Who works on the folder now, and on which port its database listens. */
	Path occupant() {
		return this.path.resolve("service.properties");
	}

	private Path lockFile() {
		return this.path.resolve("service.lock");
	}

	@Override
	public String toString() {
		return this.path.toString();
	}

	/**
	 * The right to work on the folder, until closed.
	 */
	static final class Hold implements AutoCloseable {

		private final FileChannel channel;

		private Hold(FileChannel channel) {
			this.channel = channel;
		}

		@Override
		public void close() {
			DataFolder.close(this.channel);
		}

	}

}
