package org.seriatim.backup.domain;

import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalTime;
import java.util.List;

import jakarta.validation.constraints.Min;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;
import org.springframework.validation.annotation.Validated;

/**
 * Where backups lie, when they are made by themselves and how many are kept. The
 * passphrase is no property: see {@link Passphrases}.
 *
 * @param folder where they lie; by default {@value #FOLDER} in the data folder. One that
 * is named must exist, since it may be a disk that is not there today
 * @param passphraseFile a file whose first line is the passphrase
 * @param at times of day, where the clinic is, at which one is made if there is a
 * passphrase
 * @param keepDaily of how many of the last days that have a backup the newest is kept
 * @param keepWeekly of how many of the last weeks
 * @param keepMonthly of how many of the last months
 * @param alertAfter how old the last good backup may be before the lead and the
 * administrator are told
 */
@ConfigurationProperties("seriatim.backup")
@Validated
public record BackupSettings(@Nullable Path folder, @Nullable Path passphraseFile,
		@DefaultValue("02:30") List<LocalTime> at, @DefaultValue("7") @Min(1) int keepDaily,
		@DefaultValue("5") @Min(0) int keepWeekly, @DefaultValue("12") @Min(0) int keepMonthly,
		@DefaultValue("48h") Duration alertAfter) {

	static final String FOLDER = "backups";

}
