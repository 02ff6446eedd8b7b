package org.seriatim.backup.domain;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.security.MessageDigest;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.zip.GZIPInputStream;
import java.util.zip.ZipException;

import org.apache.commons.compress.archivers.tar.TarArchiveEntry;
import org.apache.commons.compress.archivers.tar.TarArchiveInputStream;
import org.jspecify.annotations.Nullable;

/**
 * Reads the inside of a backup from its first byte to its last, hands on what it finds as
 * it comes, and compares all of it with the checksums that the backup carries. What was
 * handed on counts only when {@link #read} has returned.
 */
final class ArchiveReader {

	private static final int BUFFER = 1 << 16;

	/** No entry that is kept in memory is larger: a thousand checksums, or a manifest. */
	private static final int LARGEST_LIST = 16 << 20;

	/** What takes the parts of a backup. */
	interface Destination {

		void about(About about) throws IOException;

		/** Rows of a table, as they come; the same table until another one begins. */
		TableTarget table(String name) throws IOException;

		/** Lines of name, last value and whether it was given out. */
		void sequences(List<List<String>> lines) throws IOException;

		/**
		 * @param path within the data folder, which leads nowhere else
		 */
		OutputStream file(String path) throws IOException;

	}

	/** What takes the rows of a table. */
	interface TableTarget {

		void write(byte[] bytes, int length) throws IOException;

		/**
		 * @return how many rows there were
		 */
		long end() throws IOException;

	}

	private final TarArchiveInputStream tar;

	private final InputStream sealed;

	private final Destination destination;

	private final byte[] buffer = new byte[BUFFER];

	private final SortedMap<String, TableContent> tables = new TreeMap<>();

	private final Map<String, String> unchecked = new TreeMap<>();

	private long files;

	private long fileBytes;

	private @Nullable About about;

	private @Nullable OpenTable open;

	private boolean complete;

	private ArchiveReader(InputStream sealed, Destination destination) throws IOException {
		this.sealed = sealed;
		this.destination = destination;
		this.tar = new TarArchiveInputStream(new BufferedInputStream(new GZIPInputStream(sealed, BUFFER), BUFFER),
				"UTF-8");
	}

	/**
	 * @throws BackupRefused if it is not exactly what was written
	 */
	static Contents read(OpeningStream opening, Destination destination) throws IOException {
		try {
			return new ArchiveReader(opening, destination).read();
		}
		catch (ZipException ex) {
			throw BackupRefused.damaged("The inside of the backup cannot be read (%s).".formatted(ex.getMessage()));
		}
	}

	private Contents read() throws IOException {
		for (TarArchiveEntry entry = this.tar.getNextEntry(); entry != null; entry = this.tar.getNextEntry()) {
			read(entry);
		}
		// the end of the file is only behind its last chunk
		while (this.sealed.read(this.buffer) >= 0) {
			continue;
		}
		if (!this.complete || this.about == null) {
			throw BackupRefused.damaged("The backup lacks its manifest.");
		}
		return new Contents(this.about.madeAt(), this.about.step(), this.tables, this.files, this.fileBytes);
	}

	private void read(TarArchiveEntry entry) throws IOException {
		String name = entry.getName();
		if (this.complete || (this.about == null) != name.equals(About.ENTRY)) {
			throw unexpected(name);
		}
		if (!name.startsWith(ArchiveWriter.TABLES)) {
			endTable();
		}
		if (name.equals(About.ENTRY)) {
			this.about = About.read(list(entry));
			this.destination.about(this.about);
		}
		else if (name.startsWith(ArchiveWriter.TABLES)) {
			table(name.substring(ArchiveWriter.TABLES.length()));
		}
		else if (name.equals(ArchiveWriter.SEQUENCES)) {
			this.destination.sequences(Lines.read(list(entry)));
		}
		else if (name.startsWith(ArchiveWriter.FILES)) {
			file(name.substring(ArchiveWriter.FILES.length()));
		}
		else if (name.startsWith(ArchiveWriter.CHECKSUMS)) {
			check(Lines.read(list(entry)));
		}
		else if (name.equals(ArchiveWriter.MANIFEST)) {
			compare(Lines.read(list(entry)));
			this.complete = true;
		}
		else {
			throw unexpected(name);
		}
	}

	private void table(String part) throws IOException {
		int slash = part.lastIndexOf('/');
		String name = part.substring(0, Math.max(0, slash));
		var table = this.open;
		if (table == null || !table.name().equals(name)) {
			endTable();
			if (name.isEmpty() || this.tables.containsKey(name)) {
				throw unexpected(part);
			}
			table = new OpenTable(name, this.destination.table(name), Digests.sha256());
			this.open = table;
		}
		for (int read = this.tar.read(this.buffer); read >= 0; read = this.tar.read(this.buffer)) {
			table.digest().update(this.buffer, 0, read);
			table.target().write(this.buffer, read);
		}
	}

	private void endTable() throws IOException {
		var table = this.open;
		if (table != null) {
			this.open = null;
			this.tables.put(table.name(), new TableContent(table.target().end(), Digests.hex(table.digest())));
		}
	}

	private void file(String path) throws IOException {
		if (!KeptFiles.isWithin(path)) {
			throw unexpected(path);
		}
		var digest = Digests.sha256();
		long size = 0;
		try (var out = this.destination.file(path)) {
			for (int read = this.tar.read(this.buffer); read >= 0; read = this.tar.read(this.buffer)) {
				digest.update(this.buffer, 0, read);
				out.write(this.buffer, 0, read);
				size += read;
			}
		}
		if (this.unchecked.put(path, size + " " + Digests.hex(digest)) != null) {
			throw unexpected(path);
		}
		this.files++;
		this.fileBytes += size;
	}

	private void check(List<List<String>> lines) {
		for (var line : lines) {
			String found = this.unchecked.remove(line.get(0));
			if (line.size() != 3 || !(line.get(1) + " " + line.get(2)).equals(found)) {
				throw BackupRefused.damaged("A file in the backup is not what its checksum says.");
			}
		}
		if (!this.unchecked.isEmpty()) {
			throw BackupRefused.damaged("A file in the backup has no checksum.");
		}
	}

	private void compare(List<List<String>> lines) {
		var expected = new TreeMap<String, TableContent>();
		boolean filesAgree = false;
		for (var line : lines) {
			if (line.size() == 4 && line.get(0).equals("table")) {
				expected.put(line.get(1), new TableContent(Long.parseLong(line.get(2)), line.get(3)));
			}
			else {
				filesAgree = line.equals(List.of("files", Long.toString(this.files), Long.toString(this.fileBytes)));
			}
		}
		if (!filesAgree || !this.unchecked.isEmpty() || !expected.equals(this.tables)) {
			throw BackupRefused.damaged("The content of the backup is not what its manifest says.");
		}
	}

	private byte[] list(TarArchiveEntry entry) throws IOException {
		if (entry.getSize() > LARGEST_LIST) {
			throw unexpected(entry.getName());
		}
		return this.tar.readAllBytes();
	}

	private static BackupRefused unexpected(String entry) {
		return BackupRefused.damaged("The backup holds an entry where none belongs (%s).".formatted(entry));
	}

	private record OpenTable(String name, TableTarget target, MessageDigest digest) {
	}

}
