package org.seriatim.backup.domain;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.security.MessageDigest;
import java.time.Instant;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.zip.Deflater;
import java.util.zip.GZIPOutputStream;

import org.apache.commons.compress.archivers.tar.TarArchiveEntry;
import org.apache.commons.compress.archivers.tar.TarArchiveOutputStream;

/**
 * Writes the inside of a backup: a gzipped tar archive of {@code about}, then for each
 * table {@code tables/NAME/0000000} and on, which joined are what COPY gives out; then
 * {@code sequences}; then {@code files/PATH}, with a {@code checksums/0000000} behind
 * each thousand of them; at last {@code manifest}. Keeps nothing in memory that grows
 * with the size of what it writes.
 */
final class ArchiveWriter {

	static final String TABLES = "tables/";

	static final String SEQUENCES = "sequences";

	static final String FILES = "files/";

	static final String CHECKSUMS = "checksums/";

	static final String MANIFEST = "manifest";

	private static final int PART = 4 << 20;

	private static final int FILES_TOGETHER = 1_000;

	private static final int BUFFER = 1 << 16;

	private final TarArchiveOutputStream tar;

	private final GZIPOutputStream gzip;

	private final Instant madeAt;

	private final SortedMap<String, TableContent> tables = new TreeMap<>();

	private long files;

	private long fileBytes;

	private Lines checksums = new Lines();

	ArchiveWriter(OutputStream out, About about) throws IOException {
		this.gzip = new GZIPOutputStream(out, BUFFER) {
			{
				// photographs don't shrink, and a quick backup disturbs less
				this.def.setLevel(Deflater.BEST_SPEED);
			}
		};
		this.tar = new TarArchiveOutputStream(this.gzip, "UTF-8");
		this.tar.setLongFileMode(TarArchiveOutputStream.LONGFILE_POSIX);
		this.tar.setBigNumberMode(TarArchiveOutputStream.BIGNUMBER_POSIX);
		this.tar.setAddPaxHeadersForNonAsciiNames(true);
		this.madeAt = about.madeAt();
		put(About.ENTRY, about.bytes());
	}

	/** Takes the rows of a table, as text, until it is closed. */
	TableStream table(String name) {
		return new TableStream(name);
	}

	void sequences(Lines lines) throws IOException {
		put(SEQUENCES, lines.bytes());
	}

	/**
	 * @param path within the data folder, with slashes
	 * @param size in bytes, which must be those of the content
	 */
	void file(String path, long size, InputStream content) throws IOException {
		begin(FILES + path, size);
		var digest = Digests.sha256();
		byte[] buffer = new byte[BUFFER];
		long left = size;
		while (left > 0) {
			int read = content.read(buffer, 0, (int) Math.min(left, buffer.length));
			if (read < 0) {
				throw new IOException("The file " + path + " became shorter while it was read");
			}
			digest.update(buffer, 0, read);
			this.tar.write(buffer, 0, read);
			left -= read;
		}
		this.tar.closeArchiveEntry();
		this.checksums.add(path, size, Digests.hex(digest));
		this.files++;
		this.fileBytes += size;
		if (this.files % FILES_TOGETHER == 0) {
			putChecksums();
		}
	}

	Contents finish(String step) throws IOException {
		if (this.files % FILES_TOGETHER != 0) {
			putChecksums();
		}
		var lines = new Lines();
		this.tables.forEach((name, content) -> lines.add("table", name, content.rows(), content.sha256()));
		lines.add("files", this.files, this.fileBytes);
		put(MANIFEST, lines.bytes());
		this.tar.finish();
		this.gzip.finish();
		return new Contents(this.madeAt, step, this.tables, this.files, this.fileBytes);
	}

	private void putChecksums() throws IOException {
		put(CHECKSUMS + numbered((this.files - 1) / FILES_TOGETHER), this.checksums.bytes());
		this.checksums = new Lines();
	}

	private void put(String name, byte[] bytes) throws IOException {
		put(name, bytes, bytes.length);
	}

	private void put(String name, byte[] bytes, int length) throws IOException {
		begin(name, length);
		this.tar.write(bytes, 0, length);
		this.tar.closeArchiveEntry();
	}

	private void begin(String name, long size) throws IOException {
		var entry = new TarArchiveEntry(name);
		entry.setSize(size);
		entry.setModTime(this.madeAt.toEpochMilli());
		entry.setMode(0600);
		this.tar.putArchiveEntry(entry);
	}

	private static String numbered(long number) {
		return "%07d".formatted(number);
	}

	/** The rows of one table. */
	final class TableStream extends OutputStream {

		private final String name;

		private final MessageDigest digest = Digests.sha256();

		private final byte[] part = new byte[PART];

		private int filled;

		private long number;

		private TableStream(String name) {
			this.name = name;
		}

		@Override
		public void write(int one) throws IOException {
			write(new byte[] { (byte) one }, 0, 1);
		}

		@Override
		public void write(byte[] bytes, int offset, int length) throws IOException {
			this.digest.update(bytes, offset, length);
			int from = offset;
			int left = length;
			while (left > 0) {
				int taken = Math.min(left, this.part.length - this.filled);
				System.arraycopy(bytes, from, this.part, this.filled, taken);
				this.filled += taken;
				from += taken;
				left -= taken;
				if (this.filled == this.part.length) {
					putPart();
				}
			}
		}

		/**
		 * @param rows how many were written
		 */
		void end(long rows) throws IOException {
			if (this.filled > 0 || this.number == 0) {
				putPart();
			}
			ArchiveWriter.this.tables.put(this.name, new TableContent(rows, Digests.hex(this.digest)));
		}

		private void putPart() throws IOException {
			put(TABLES + this.name + "/" + numbered(this.number++), this.part, this.filled);
			this.filled = 0;
		}

	}

}
