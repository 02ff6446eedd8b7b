package org.seriatim.backup.domain;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;

import org.springframework.stereotype.Component;

/** Reads a backup to its end without restoring it. */
@Component
public class CheckBackup {

	/**
	 * @throws BackupRefused if it is not exactly what was written, or the passphrase is
	 * another one
	 */
	public Contents of(Path file, Passphrase passphrase) {
		try (var in = new BufferedInputStream(Files.newInputStream(file), 1 << 16)) {
			return read(new OpeningStream(in, passphrase));
		}
		catch (NoSuchFileException ex) {
			throw new BackupRefused("There is no file %s.".formatted(file));
		}
		catch (IOException ex) {
			throw new BackupRefused(BackupRefused.Reason.OTHER,
					"The file %s cannot be read: %s.".formatted(file, MakeBackup.reason(ex)), ex);
		}
	}

	Contents read(OpeningStream opening) throws IOException {
		return ArchiveReader.read(opening, new Nowhere());
	}

	private static final class Nowhere implements ArchiveReader.Destination {

		@Override
		public void about(About about) {
		}

		@Override
		public ArchiveReader.TableTarget table(String name) {
			return new Counted();
		}

		@Override
		public void sequences(List<List<String>> lines) {
		}

		@Override
		public OutputStream file(String path) {
			return OutputStream.nullOutputStream();
		}

	}

	/**
	 * In the text format of COPY a line feed within a value is written otherwise, so each
	 * one ends a row; the first row names the columns.
	 */
	private static final class Counted implements ArchiveReader.TableTarget {

		private long lines;

		@Override
		public void write(byte[] bytes, int length) {
			for (int at = 0; at < length; at++) {
				if (bytes[at] == '\n') {
					this.lines++;
				}
			}
		}

		@Override
		public long end() {
			return this.lines - 1;
		}

	}

}
