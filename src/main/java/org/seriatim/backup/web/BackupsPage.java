package org.seriatim.backup.web;

import java.time.Duration;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;

import org.jspecify.annotations.Nullable;
import org.seriatim.backup.domain.BackupRun;
import org.seriatim.backup.domain.StoredBackup;
import org.seriatim.shell.Written;

/**
 * The backups as their page shows them.
 *
 * @param lastGood when the newest good one was made, none if there is none
 * @param age how old that is
 * @param runningSince since when one is being made by this service, none if none is
 * @param elsewhere whether another service or a command makes one
 * @param failure why the last attempt failed, none if it did not
 */
record BackupsPage(@Nullable String lastGood, @Nullable Age age, @Nullable String runningSince, boolean elsewhere,
		@Nullable String failure, List<Run> runs, List<Stored> stored) {

	/** One attempt. */
	record Run(String at, String how, String by, @Nullable String size, String took, @Nullable String reason,
			String file) {

		static Run of(BackupRun run, ZoneId zone) {
			Duration took = Duration.between(run.startedAt(), run.endedAt());
			return new Run(Written.time(run.startedAt(), zone),
					"backup.how." + run.how().name().toLowerCase(Locale.ROOT), run.by(),
					(run.bytes() != null) ? written(run.bytes()) : null,
					String.format(Locale.ENGLISH, "%d:%02d", took.toMinutes(), took.toSecondsPart()), run.reason(),
					run.file());
		}

	}

	/** One file. */
	record Stored(String file, String at, String size) {

		static Stored of(StoredBackup backup, ZoneId zone) {
			return new Stored(backup.name(), Written.time(backup.madeAt(), zone), written(backup.bytes()));
		}

	}

	private static String written(long bytes) {
		if (bytes < 1_000_000) {
			return String.format(Locale.ENGLISH, "%,d kB", Math.max(1, bytes / 1_000));
		}
		return (bytes < 10_000_000_000L) ? String.format(Locale.ENGLISH, "%,.1f MB", bytes / 1e6)
				: String.format(Locale.ENGLISH, "%,.1f GB", bytes / 1e9);
	}

}
