package org.seriatim.backup.domain;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;

import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/**
 * The folder in which the service keeps backups. It knows its own by their names; what
 * else lies there is none of its business.
 */
@Component
public class BackupFolder {

	private static final DateTimeFormatter MADE_AT = DateTimeFormatter.ofPattern("uuuuMMdd'T'HHmmss'Z'", Locale.ROOT);

	private static final Pattern NAME = Pattern.compile("seriatim-(\\d{8}T\\d{6}Z)\\.backup");

	private final @Nullable Path named;

	private final Path folder;

	BackupFolder(BackupSettings settings, InstallationSettings installation) {
		this.named = settings.folder();
		this.folder = (this.named != null) ? this.named.toAbsolutePath().normalize()
				: installation.dataFolder().resolve(BackupSettings.FOLDER);
	}

	/** Older backups stay that should go. */
	static final class NotTidied extends RuntimeException {

		private static final long serialVersionUID = 1L;

		NotTidied(String message, IOException cause) {
			super(message, cause);
		}

	}

	/** Where it is, for a person. */
	public Path path() {
		return this.folder;
	}

	/**
	 * The file of a backup that is made now.
	 * @throws BackupRefused if the folder is not there
	 */
	Path next(Instant now) {
		try {
			if (this.named == null) {
				OwnerOnly.folder(this.folder);
			}
		}
		catch (IOException ex) {
			throw new BackupRefused(BackupRefused.Reason.OTHER,
					"The folder %s cannot be made: %s.".formatted(this.folder, MakeBackup.reason(ex)), ex);
		}
		return this.folder.resolve("seriatim-%s.backup".formatted(MADE_AT.format(now.atOffset(ZoneOffset.UTC))));
	}

	/** What lies there, newest first; nothing where the folder is not there. */
	public List<StoredBackup> list() {
		var backups = new ArrayList<StoredBackup>();
		if (!Files.isDirectory(this.folder)) {
			return backups;
		}
		try (var files = Files.newDirectoryStream(this.folder, "seriatim-*.backup")) {
			for (Path file : files) {
				stored(file).ifPresent(backups::add);
			}
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
		backups.sort(Comparator.comparing(StoredBackup::madeAt).reversed());
		return backups;
	}

	private static Optional<StoredBackup> stored(Path file) throws IOException {
		String name = file.getFileName().toString();
		var matcher = NAME.matcher(name);
		if (!matcher.matches() || !Files.isRegularFile(file)) {
			return Optional.empty();
		}
		try {
			var madeAt = LocalDateTime.parse(matcher.group(1), MADE_AT).toInstant(ZoneOffset.UTC);
			return Optional.of(new StoredBackup(name, madeAt, Files.size(file)));
		}
		catch (NoSuchFileException | DateTimeException ex) {
			return Optional.empty();
		}
	}

	/** The file of one of them. */
	public Optional<Path> file(String name) {
		return list().stream().map(StoredBackup::name).filter(name::equals).map(this.folder::resolve).findFirst();
	}

	/**
	 * Removes what the retention does not keep, and drafts that a process left behind
	 * that ended before they were done.
	 * @return how many backups went
	 */
	int tidy(Retention retention, ZoneId zone) {
		var all = list();
		var kept = retention.kept(all.stream().map(StoredBackup::madeAt).toList(), zone);
		int gone = 0;
		try {
			for (var backup : all) {
				if (!kept.contains(backup.madeAt())) {
					Files.deleteIfExists(this.folder.resolve(backup.name()));
					gone++;
				}
			}
			try (var drafts = Files.newDirectoryStream(this.folder, MakeBackup.DRAFT + "*")) {
				for (Path draft : drafts) {
					Files.deleteIfExists(draft);
				}
			}
			OwnerOnly.settle(this.folder);
		}
		catch (IOException ex) {
			throw new NotTidied("The backup was made, but older ones could not be removed from %s: %s."
				.formatted(this.folder, MakeBackup.reason(ex)), ex);
		}
		return gone;
	}

}
