package org.seriatim.photograph.domain;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.Optional;
import java.util.Set;

import org.seriatim.photograph.PhotographId;
import org.seriatim.photograph.domain.PictureRefused.Reason;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.stereotype.Component;

/**
 * The pictures on disk, named by the ids of their photographs, in folders that nobody but
 * the account of the service may enter and that no address of the web leads to.
 */
@Component
class PhotographFiles {

	private static final Logger log = LoggerFactory.getLogger(PhotographFiles.class);

	private final PhotographSettings settings;

	PhotographFiles(PhotographSettings settings) {
		this.settings = settings;
	}

	/**
	 * Writes both sizes. When this returns they are on the disk and survive a crash of
	 * the machine; until then there is nothing under their names.
	 * @throws PictureRefused if the disk does not take them
	 */
	void keep(PhotographId id, Picture picture) {
		try {
			var folder = folder(id);
			Files.createDirectories(folder, ownerOnly("rwx------"));
			write(small(id), picture.small());
			write(whole(id), picture.whole());
			for (var parent = folder; !parent.equals(this.settings.folder().getParent()); parent = parent.getParent()) {
				force(parent);
			}
		}
		catch (IOException ex) {
			// the names of the files are ids, so this tells nothing about anybody
			log.error("A photograph could not be written to the data folder", ex);
			remove(id);
			throw new PictureRefused(Reason.NO_ROOM, ex);
		}
	}

	private static void write(Path file, byte[] content) throws IOException {
		var draft = draft(file);
		try (var channel = FileChannel.open(draft,
				Set.of(StandardOpenOption.CREATE, StandardOpenOption.TRUNCATE_EXISTING, StandardOpenOption.WRITE),
				ownerOnly("rw-------"))) {
			var buffer = ByteBuffer.wrap(content);
			while (buffer.hasRemaining()) {
				channel.write(buffer);
			}
			channel.force(true);
			Files.move(draft, file, StandardCopyOption.ATOMIC_MOVE);
		}
		catch (IOException ex) {
			Files.deleteIfExists(draft);
			throw ex;
		}
	}

	private static Path draft(Path file) {
		return file.resolveSibling(file.getFileName() + ".part");
	}

	/** A new name is on the disk only when its folder is. */
	private static void force(Path folder) throws IOException {
		if (FileSystems.getDefault().supportedFileAttributeViews().contains("posix")) {
			try (var channel = FileChannel.open(folder, StandardOpenOption.READ)) {
				channel.force(true);
			}
		}
	}

	Path whole(PhotographId id) {
		return folder(id).resolve(id + ".jpg");
	}

	Path small(PhotographId id) {
		return folder(id).resolve(id + "-small.jpg");
	}

	/** The last digits of an id are random, so that the folders fill evenly. */
	private Path folder(PhotographId id) {
		var name = id.toString();
		return this.settings.folder().resolve(name.substring(name.length() - 2));
	}

	/**
	 * Removes what there is.
	 * @return whether nothing is left
	 */
	boolean remove(PhotographId id) {
		try {
			for (var file : List.of(whole(id), small(id))) {
				Files.deleteIfExists(file);
				// of a service that was killed while it wrote
				Files.deleteIfExists(draft(file));
			}
			return true;
		}
		catch (IOException ex) {
			log.error("The files of a photograph could not be removed from the data folder", ex);
			return false;
		}
	}

	/**
	 * What a file holds.
	 * @return empty if it is gone, which somebody must look into
	 */
	Optional<byte[]> read(Path file) {
		try {
			return Optional.of(Files.readAllBytes(file));
		}
		catch (IOException ex) {
			log.error("A photograph is on record and its file cannot be read", ex);
			return Optional.empty();
		}
	}

	private static FileAttribute<?>[] ownerOnly(String permissions) {
		return FileSystems.getDefault().supportedFileAttributeViews().contains("posix")
				? new FileAttribute<?>[] {
						PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(permissions)) }
				: new FileAttribute<?>[0];
	}

}
