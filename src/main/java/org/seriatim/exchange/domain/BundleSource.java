package org.seriatim.exchange.domain;

import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.SortedSet;

/** The CSV files of a bundle, wherever they are. */
interface BundleSource extends Closeable {

	/** The names of the CSV files. Files of other kinds are nobody's business. */
	SortedSet<String> names();

	/** How many bytes the file claims to have. */
	long size(String name);

	/** Opens a file, for once. */
	InputStream open(String name) throws IOException;

	/**
	 * Opens a folder or a ZIP file.
	 * @throws UnreadableBundle when it is neither
	 */
	static BundleSource of(Path bundle) throws UnreadableBundle {
		if (Files.isDirectory(bundle)) {
			return FolderSource.of(bundle);
		}
		if (Files.isRegularFile(bundle)) {
			return ZipSource.of(bundle);
		}
		throw new UnreadableBundle("nothing under this name", "a folder or a ZIP file");
	}

	static boolean isCsv(String name) {
		return name.toLowerCase(Locale.ROOT).endsWith(".csv");
	}

}
