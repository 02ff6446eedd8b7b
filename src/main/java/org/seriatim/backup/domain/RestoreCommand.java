package org.seriatim.backup.domain;

import java.nio.file.Path;
import java.util.concurrent.Callable;

import org.springframework.context.annotation.Lazy;
import org.springframework.stereotype.Component;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

@Component
@Lazy
@Command(name = "restore", mixinStandardHelpOptions = true,
		description = "Brings a backup back into an empty installation, whole or not at all. Stop the service first.")
class RestoreCommand implements Callable<Integer> {

	@Parameters(paramLabel = "FILE", description = "The backup.")
	Path file = Path.of("");

	private final RestoreBackup restore;

	private final Passphrases passphrases;

	RestoreCommand(RestoreBackup restore, Passphrases passphrases) {
		this.restore = restore;
		this.passphrases = passphrases;
	}

	@Override
	public Integer call() {
		try {
			var restored = this.restore.from(this.file, this.passphrases.askForReading());
			BackupCommand.tell(restored.contents(), System.out);
			System.out.println("Restored and compared with the backup.");
			if (!restored.sameKey()) {
				System.err.println(
						"This installation has another key than the one that made the backup, so nobody's second factor works. Set seriatim.key as it was there.");
			}
			return 0;
		}
		catch (BackupRefused ex) {
			System.err.println(ex.getMessage());
			return 1;
		}
	}

}
