package org.seriatim.access.domain;

import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.channels.Channels;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.HexFormat;
import java.util.Optional;
import java.util.Properties;
import java.util.Set;

import org.seriatim.access.AuditEnd;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.stereotype.Component;

/**
 * The last seal that the service has made, kept in a file beside the database: by it a
 * log is found out whose end was cut off.
 */
@Component
class AuditAnchor implements AuditEnd {

	private static final String FILE = "audit-anchor.properties";

	private static final FileAttribute<?>[] OWNER_ONLY = FileSystems.getDefault()
		.supportedFileAttributeViews()
		.contains("posix")
				? new FileAttribute<?>[] {
						PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------")) }
				: new FileAttribute<?>[0];

	private final Path file;

	@Autowired
	AuditAnchor(KeySettings settings) {
		this(settings.data().toAbsolutePath().normalize());
	}

	AuditAnchor(Path folder) {
		this.file = folder.resolve(FILE);
	}

	/**
	 * A place in the chain.
	 *
	 * @param hash of the seal there
	 */
	record Head(long position, byte[] hash) {

		/** As a person notes it: position, colon, hash. */
		String text() {
			return this.position + ":" + HexFormat.of().formatHex(this.hash);
		}

		/**
		 * @throws IllegalArgumentException if it is not written so
		 */
		static Head parse(String text) {
			int colon = text.indexOf(':');
			var hash = HexFormat.of().parseHex(text.substring(colon + 1).strip());
			long position = (colon > 0) ? Long.parseLong(text.substring(0, colon).strip()) : 0;
			if (position < 1 || hash.length != AuditMarks.START.length) {
				throw new IllegalArgumentException("not a position, a colon and a hash");
			}
			return new Head(position, hash);
		}

	}

	Path file() {
		return this.file;
	}

	/** Empty where none was kept. */
	Optional<Head> read() {
		try {
			var content = new Properties();
			content.load(new StringReader(Files.readString(this.file)));
			return Optional.of(Head.parse(content.getProperty("sealed", "")));
		}
		catch (NoSuchFileException ex) {
			return Optional.empty();
		}
		catch (IOException ex) {
			throw new UncheckedIOException("The anchor of the audit log, %s, cannot be read".formatted(this.file), ex);
		}
		catch (IllegalArgumentException ex) {
			throw new IllegalStateException(
					"The anchor of the audit log, %s, does not hold what the service writes there".formatted(this.file),
					ex);
		}
	}

	@Override
	public void forget() {
		try {
			Files.deleteIfExists(this.file);
		}
		catch (IOException ex) {
			throw new UncheckedIOException("The anchor of the audit log, %s, cannot be removed".formatted(this.file),
					ex);
		}
	}

	/** Replaces it as a whole; a reader sees the old one or the new one. */
	void keep(Head head) {
		var draft = this.file.resolveSibling(FILE + ".draft");
		try {
			Files.createDirectories(this.file.getParent());
			Files.deleteIfExists(draft);
			try (var channel = FileChannel.open(draft, Set.of(StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE),
					OWNER_ONLY)) {
				Channels.newOutputStream(channel)
					.write("sealed=%s%n".formatted(head.text()).getBytes(StandardCharsets.US_ASCII));
				channel.force(true);
			}
			Files.move(draft, this.file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
		}
		catch (IOException ex) {
			throw new UncheckedIOException("The anchor of the audit log, %s, cannot be kept".formatted(this.file), ex);
		}
	}

}
