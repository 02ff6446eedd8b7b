package org.seriatim.exchange.domain;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.util.Collections;
import java.util.HashSet;
import java.util.Set;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.zip.CRC32;
import java.util.zip.CheckedInputStream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;

/**
 * A bundle that is a ZIP file, with the files at its top or all in one folder. Nothing is
 * ever unpacked to the disk, so the name of an entry leads nowhere.
 */
final class ZipSource implements BundleSource {

	/**
	 * Some programs add their own bookkeeping; far fewer files than this are a bundle.
	 */
	private static final int MOST_ENTRIES = 1_000;

	private final ZipFile zip;

	private final SortedMap<String, ZipEntry> entries;

	private ZipSource(ZipFile zip, SortedMap<String, ZipEntry> entries) {
		this.zip = zip;
		this.entries = entries;
	}

	static ZipSource of(Path file) throws UnreadableBundle {
		ZipFile zip;
		try {
			zip = new ZipFile(file.toFile());
		}
		catch (IOException | IllegalArgumentException ex) {
			throw new UnreadableBundle("a file that is not a ZIP file", "a folder or a ZIP file");
		}
		try {
			return new ZipSource(zip, entriesOf(zip));
		}
		catch (UnreadableBundle ex) {
			closeQuietly(zip);
			throw ex;
		}
	}

	private static void closeQuietly(ZipFile zip) {
		try {
			zip.close();
		}
		catch (IOException ex) {
			// it was open for reading only
		}
	}

	private static SortedMap<String, ZipEntry> entriesOf(ZipFile zip) throws UnreadableBundle {
		if (zip.size() > MOST_ENTRIES) {
			throw new UnreadableBundle("a ZIP file with %d entries".formatted(zip.size()),
					"at most %d entries".formatted(MOST_ENTRIES));
		}
		SortedMap<String, ZipEntry> entries = new TreeMap<>();
		Set<String> folders = new HashSet<>();
		for (ZipEntry entry : Collections.list(zip.entries())) {
			String path = entry.getName().replace('\\', '/');
			String name = path.substring(path.lastIndexOf('/') + 1);
			if (path.startsWith("/") || ("/" + path).contains("/../")) {
				throw new UnreadableBundle("a file of the ZIP file whose path leads out of it",
						"paths within the ZIP file");
			}
			if (entry.isDirectory() || path.startsWith("__MACOSX/") || name.startsWith(".")
					|| !BundleSource.isCsv(name)) {
				continue;
			}
			if (entries.put(name, entry) != null) {
				throw new UnreadableBundle("more than one %s in the ZIP file".formatted(name), "one file of each name");
			}
			folders.add(path.substring(0, path.length() - name.length()));
		}
		if (folders.size() > 1) {
			throw new UnreadableBundle("CSV files in several folders of the ZIP file",
					"all files at the top of the ZIP file or all in one folder");
		}
		return entries;
	}

	@Override
	public SortedSet<String> names() {
		return new TreeSet<>(this.entries.keySet());
	}

	@Override
	public long size(String name) {
		ZipEntry entry = this.entries.get(name);
		return (entry == null) ? 0 : Math.max(entry.getSize(), 0);
	}

	@Override
	public InputStream open(String name) throws IOException {
		ZipEntry entry = this.entries.get(name);
		return new Verified(this.zip.getInputStream(entry), entry.getCrc());
	}

	@Override
	public void close() throws IOException {
		this.zip.close();
	}

	/**
	 * Compares what was read with the check sum in the directory of the ZIP file, which
	 * {@link ZipFile} leaves to its user.
	 */
	private static final class Verified extends CheckedInputStream {

		private final long expected;

		Verified(InputStream in, long expected) {
			super(in, new CRC32());
			this.expected = expected;
		}

		@Override
		public int read() throws IOException {
			return verified(super.read());
		}

		@Override
		public int read(byte[] bytes, int offset, int length) throws IOException {
			return verified(super.read(bytes, offset, length));
		}

		private int verified(int read) throws ZipException {
			if (read < 0 && this.expected >= 0 && getChecksum().getValue() != this.expected) {
				throw new ZipException("check sum differs");
			}
			return read;
		}

	}

}
