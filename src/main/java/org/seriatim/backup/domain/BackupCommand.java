package org.seriatim.backup.domain;

import java.io.PrintStream;
import java.nio.file.Path;
import java.util.Locale;
import java.util.concurrent.Callable;

import org.springframework.context.annotation.Lazy;
import org.springframework.stereotype.Component;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

@Component
@Lazy
@Command(name = "backup", mixinStandardHelpOptions = true,
		description = "Writes an encrypted backup of database and files, also while the service runs.")
class BackupCommand implements Callable<Integer> {

	@Parameters(paramLabel = "FILE", description = "Where to. Nothing is overwritten.")
	Path file = Path.of("");

	@Option(names = "--check",
			description = "Reads the backup at FILE to its end and says whether it is whole; changes nothing.")
	boolean check;

	private final RunBackup backup;

	private final CheckBackup checkBackup;

	private final Passphrases passphrases;

	BackupCommand(RunBackup backup, CheckBackup checkBackup, Passphrases passphrases) {
		this.backup = backup;
		this.checkBackup = checkBackup;
		this.passphrases = passphrases;
	}

	@Override
	public Integer call() {
		try {
			var contents = this.check ? this.checkBackup.of(this.file, this.passphrases.askForReading()) : this.backup
				.run(BackupRun.How.COMMAND, () -> new RunBackup.Target(this.file, this.passphrases.askForBackup()));
			tell(contents, System.out);
			return 0;
		}
		catch (BackupRefused ex) {
			System.err.println(ex.getMessage());
			return 1;
		}
	}

	static void tell(Contents contents, PrintStream out) {
		out.printf(Locale.ROOT, "%-32s %12s  %s%n", "table", "rows", "sha256");
		contents.tables()
			.forEach((name, content) -> out.printf(Locale.ROOT, "%-32s %,12d  %s%n", name, content.rows(),
					content.sha256()));
		out.printf(Locale.ROOT, "%,d rows in %d tables, %,d files with %,d bytes, as of %s, schema step %s%n",
				contents.rows(), contents.tables().size(), contents.files(), contents.fileBytes(), contents.madeAt(),
				contents.step());
	}

}
