package org.seriatim.backup.domain;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.channels.Channels;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;

import org.springframework.util.FileSystemUtils;

/**
 * The files of a backup on their way into the data folder: written aside, moved into
 * place all together, and moved back if the database does not follow.
 */
final class RestoredFiles implements AutoCloseable {

	/** The folder, within the data folder, that files are written to first. */
	static final String STAGING = "restoring";

	/** What every installation has, and what gives way to that of the backup. */
	private static final String REPLACED = "service.key";

	private final Path data;

	private final Path incoming;

	private final Path replaced;

	private final List<Path> placed = new ArrayList<>();

	private boolean kept;

	/**
	 * @throws BackupRefused if there are files of somebody's records already
	 */
	RestoredFiles(Path data, Set<Path> places) throws IOException {
		this.data = OwnerOnly.folder(data);
		new KeptFiles(data, places).forEach((path, file) -> {
			if (!path.equals(REPLACED)) {
				throw new BackupRefused(
						"The data folder %s holds files already, such as %s. A backup is restored into an empty installation only. Nothing was changed."
							.formatted(data, path));
			}
		});
		Path staging = data.resolve(STAGING);
		FileSystemUtils.deleteRecursively(staging);
		this.incoming = OwnerOnly.folder(staging.resolve("incoming"));
		this.replaced = OwnerOnly.folder(staging.resolve("replaced"));
	}

	OutputStream create(String path) throws IOException {
		Path file = this.incoming.resolve(path).normalize();
		if (!file.startsWith(this.incoming)) {
			throw new IllegalArgumentException("leads out of the folder: " + path);
		}
		OwnerOnly.folder(file.getParent());
		var channel = OwnerOnly.create(file);
		return new BufferedOutputStream(Channels.newOutputStream(channel), 1 << 16) {

			@Override
			public void close() throws IOException {
				try (channel) {
					flush();
					channel.force(true);
				}
			}

		};
	}

	/** Puts all files where they belong. */
	void place() throws IOException {
		try (var names = Files.newDirectoryStream(this.incoming)) {
			for (Path name : names) {
				Path target = this.data.resolve(name.getFileName());
				if (Files.exists(target)) {
					Files.move(target, this.replaced.resolve(name.getFileName()), StandardCopyOption.ATOMIC_MOVE);
				}
				Files.move(name, target, StandardCopyOption.ATOMIC_MOVE);
				this.placed.add(target);
			}
		}
		OwnerOnly.settle(this.data);
	}

	/** They stay: the database has followed. */
	void keep() {
		this.kept = true;
	}

	@Override
	public void close() {
		try {
			if (!this.kept) {
				for (Path target : this.placed) {
					FileSystemUtils.deleteRecursively(target);
				}
				try (var names = Files.newDirectoryStream(this.replaced)) {
					for (Path name : names) {
						Files.move(name, this.data.resolve(name.getFileName()), StandardCopyOption.ATOMIC_MOVE);
					}
				}
			}
			FileSystemUtils.deleteRecursively(this.data.resolve(STAGING));
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

}
