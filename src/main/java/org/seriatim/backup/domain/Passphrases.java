package org.seriatim.backup.domain;

import java.io.Console;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.PassphraseRules;
import org.springframework.context.MessageSource;
import org.springframework.core.env.ConfigurableEnvironment;
import org.springframework.stereotype.Component;

/**
 * Where the passphrase comes from: the variable {@value #VARIABLE} of the environment,
 * else the file that {@code seriatim.backup.passphrase-file} names, else whoever sits
 * before the console. Never an argument, which every account of the machine could read;
 * and it is kept nowhere.
 */
@Component
public class Passphrases {

	public static final String VARIABLE = "SERIATIM_BACKUP_PASSPHRASE";

	private final @Nullable String variable;

	private final @Nullable Path file;

	private final PassphraseRules rules;

	private final MessageSource messages;

	Passphrases(ConfigurableEnvironment environment, BackupSettings settings, PassphraseRules rules,
			MessageSource messages) {
		this.variable = (String) environment.getSystemEnvironment().get(VARIABLE);
		this.file = settings.passphraseFile();
		this.rules = rules;
		this.messages = messages;
	}

	/** Whether one is set, so that backups can be made by themselves. */
	public boolean isConfigured() {
		return this.variable != null && !this.variable.isEmpty() || this.file != null;
	}

	/**
	 * The one that is set, for a backup.
	 * @throws BackupRefused if it cannot be read, or is too easy to guess
	 */
	public Optional<Passphrase> forBackup() {
		return configured().map(this::checked);
	}

	/**
	 * The one that is set, or that somebody types now, twice.
	 */
	Passphrase askForBackup() {
		return forBackup().orElseGet(() -> {
			Passphrase first = checked(ask("Passphrase of the backup: "));
			if (!ask("Once more: ").isSame(first)) {
				throw new BackupRefused("The two were not the same. Nothing was changed.");
			}
			return first;
		});
	}

	/** The one that is set, or that somebody types now. */
	Passphrase askForReading() {
		return configured().orElseGet(() -> ask("Passphrase of the backup: "));
	}

	private Optional<Passphrase> configured() {
		if (this.variable != null && !this.variable.isEmpty()) {
			return Optional.of(Passphrase.of(this.variable));
		}
		return Optional.ofNullable(this.file).map(Passphrases::firstLine);
	}

	private static Passphrase firstLine(Path file) {
		try (var lines = Files.newBufferedReader(file)) {
			String line = lines.readLine();
			if (line == null || line.isEmpty()) {
				throw new BackupRefused("The first line of %s is empty; it must be the passphrase.".formatted(file));
			}
			return Passphrase.of(line);
		}
		catch (IOException ex) {
			throw new BackupRefused(BackupRefused.Reason.OTHER,
					"The passphrase cannot be read from %s: %s.".formatted(file, MakeBackup.reason(ex)), ex);
		}
	}

	private Passphrase checked(Passphrase passphrase) {
		this.rules.broken(passphrase.text()).ifPresent((broken) -> {
			throw new BackupRefused("The passphrase of backups is refused. "
					+ this.messages.getMessage(broken.message(), new Object[] { broken.limit() }, Locale.ENGLISH));
		});
		return passphrase;
	}

	private static Passphrase ask(String question) {
		Console console = System.console();
		char[] typed = (console != null) ? console.readPassword("%s", question) : null;
		if (typed == null || typed.length == 0) {
			throw new BackupRefused(
					"No passphrase was given. Set %s in the environment, or seriatim.backup.passphrase-file, or type it at a console. Nothing was changed."
						.formatted(VARIABLE));
		}
		return Passphrase.of(new String(typed));
	}

}
