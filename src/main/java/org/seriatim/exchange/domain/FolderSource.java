package org.seriatim.exchange.domain;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Stream;

/** A bundle that is a folder. */
final class FolderSource implements BundleSource {

	private final Path folder;

	private final SortedMap<String, Long> sizes;

	private FolderSource(Path folder, SortedMap<String, Long> sizes) {
		this.folder = folder;
		this.sizes = sizes;
	}

	static FolderSource of(Path folder) throws UnreadableBundle {
		SortedMap<String, Long> sizes = new TreeMap<>();
		try (Stream<Path> files = Files.list(folder)) {
			for (Path file : (Iterable<Path>) files::iterator) {
				String name = file.getFileName().toString();
				if (BundleSource.isCsv(name) && Files.isRegularFile(file)) {
					sizes.put(name, Files.size(file));
				}
			}
		}
		catch (IOException ex) {
			throw new UnreadableBundle("a folder that cannot be read", "a folder that can be read");
		}
		return new FolderSource(folder, sizes);
	}

	@Override
	public SortedSet<String> names() {
		return new TreeSet<>(this.sizes.keySet());
	}

	@Override
	public long size(String name) {
		return this.sizes.getOrDefault(name, 0L);
	}

	@Override
	public InputStream open(String name) throws IOException {
		return Files.newInputStream(this.folder.resolve(name));
	}

	@Override
	public void close() {
		// nothing is held open
	}

}
