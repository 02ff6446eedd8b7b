package org.seriatim.backup.domain;

import java.io.IOException;
import java.nio.file.FileVisitOption;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.EnumSet;
import java.util.Set;

import org.seriatim.shell.PassingFiles;

/**
 * Which files of the data folder a backup holds: all but those named here, so that a
 * folder that comes later is in it without anybody having thought of it.
 */
final class KeptFiles {

	/**
	 * What stands for itself in the data folder. The cluster is in the backup as rows;
	 * the rest belongs to one machine, to one process, or can be made again; the end of
	 * the audit log may be written down after the moment of which the backup holds it.
	 */
	private static final Set<String> LEFT_OUT = Set.of("postgresql", "postgresql.draft", "logs", "service.lock",
			"service.properties", "service.properties.draft", "audit-anchor.properties",
			"audit-anchor.properties.draft", "programs", PassingFiles.FOLDER, BackupSettings.FOLDER,
			RestoredFiles.STAGING);

	/** In the data folder of another installation. */
	private static final String LOCK = "service.lock";

	private final Path data;

	private final Set<Path> places;

	/**
	 * @param places of backups and programs, in case they lie within the data folder
	 */
	KeptFiles(Path data, Set<Path> places) {
		this.data = data;
		this.places = places;
	}

	/** What is done with each file. */
	interface Visitor {

		/**
		 * @param path within the data folder, with slashes
		 */
		void visit(String path, Path file) throws IOException;

	}

	/**
	 * Also what links lead to: a large folder often lies on another disk. A file that
	 * goes meanwhile was given up by the records.
	 */
	void forEach(Visitor visitor) throws IOException {
		if (!Files.isDirectory(this.data)) {
			return;
		}
		Files.walkFileTree(this.data, EnumSet.of(FileVisitOption.FOLLOW_LINKS), Integer.MAX_VALUE,
				new SimpleFileVisitor<>() {

					@Override
					public FileVisitResult preVisitDirectory(Path folder, BasicFileAttributes attributes) {
						return isLeftOut(folder) ? FileVisitResult.SKIP_SUBTREE : FileVisitResult.CONTINUE;
					}

					@Override
					public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) throws IOException {
						if (!isLeftOut(file) && attributes.isRegularFile()) {
							visitor.visit(within(file), file);
						}
						return FileVisitResult.CONTINUE;
					}

					@Override
					public FileVisitResult visitFileFailed(Path file, IOException failure) throws IOException {
						if (failure instanceof NoSuchFileException || isLeftOut(file)) {
							return FileVisitResult.CONTINUE;
						}
						throw failure;
					}

				});
	}

	private String within(Path file) {
		return this.data.relativize(file).toString().replace(file.getFileSystem().getSeparator(), "/");
	}

	private boolean isLeftOut(Path path) {
		if (path.equals(this.data)) {
			return false;
		}
		return this.data.equals(path.getParent()) && LEFT_OUT.contains(path.getFileName().toString())
				|| this.places.contains(path) || Files.exists(path.resolve(LOCK), LinkOption.NOFOLLOW_LINKS);
	}

	/** Whether the path names something that a backup may put into the data folder. */
	static boolean isWithin(String path) {
		if (path.isEmpty() || path.indexOf('\0') >= 0) {
			return false;
		}
		Path relative = Path.of(path);
		return !relative.isAbsolute() && !path.startsWith("/") && relative.equals(relative.normalize())
				&& !relative.startsWith("..") && !LEFT_OUT.contains(relative.getName(0).toString());
	}

}
