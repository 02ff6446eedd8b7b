package org.seriatim.backup.domain;

import java.time.Instant;

/**
 * A backup in the folder of backups.
 *
 * @param name of the file
 * @param madeAt as its name says
 */
public record StoredBackup(String name, Instant madeAt, long bytes) {
}
