package org.seriatim.backup.domain;

import java.time.Instant;

import org.jspecify.annotations.Nullable;

/**
 * One attempt to make a backup, or a restore.
 *
 * @param reason why it failed, none if it did not
 * @param file the name of the file
 * @param bytes its size, none if it failed
 * @param by who asked for it, empty for the service itself
 */
public record BackupRun(Instant startedAt, Instant endedAt, How how, @Nullable String reason, String file,
		@Nullable Long bytes, String by) {

	/** What asked for it. */
	public enum How {

		COMMAND, PAGE, SCHEDULE

	}

	public boolean isGood() {
		return this.reason == null;
	}

}
