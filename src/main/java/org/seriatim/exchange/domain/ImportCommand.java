package org.seriatim.exchange.domain;

import java.io.PrintStream;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import java.util.concurrent.Callable;

import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportResult;
import org.seriatim.exchange.ImportResult.FileCounts;
import org.seriatim.exchange.ProblemReport;

import org.springframework.context.annotation.Lazy;
import org.springframework.stereotype.Component;

@Component
@Lazy
@Command(name = "import", mixinStandardHelpOptions = true,
		description = "Takes the records of an exchange bundle, all or nothing.")
class ImportCommand implements Callable<Integer> {

	@Parameters(paramLabel = "FILE_OR_FOLDER", description = "The bundle, a ZIP file or a folder of CSV files.")
	Path bundle = Path.of("");

	@Option(names = "--update", description = "A row that is on record with other values becomes a new version of it.")
	boolean update;

	private final BundleImport bundleImport;

	private final Clock clock;

	ImportCommand(BundleImport bundleImport, Clock clock) {
		this.bundleImport = bundleImport;
		this.clock = clock;
	}

	@Override
	public Integer call() {
		ImportResult result = this.bundleImport.take(this.bundle, this.update, new Told(System.err, this.clock));
		if (result instanceof ImportResult.Refused refused) {
			tell(refused, System.err);
			return 1;
		}
		tell((ImportResult.Taken) result, System.out);
		return 0;
	}

	private static void tell(ImportResult.Taken taken, PrintStream out) {
		out.printf(Locale.ROOT, "%-26s %10s %10s %10s%n", "file", "added", "updated", "unchanged");
		for (FileCounts counts : taken.files()) {
			out.printf(Locale.ROOT, "%-26s %,10d %,10d %,10d%n", counts.file(), counts.added(), counts.changed(),
					counts.unchanged());
		}
		out.printf(Locale.ROOT, "%-26s %,10d %,10d %,10d%n", "all", taken.added(), taken.changed(), taken.unchanged());
		out.println("sha256 " + taken.digest());
	}

	private static void tell(ImportResult.Refused refused, PrintStream err) {
		ProblemReport problems = refused.problems();
		problems.forEach(err::println);
		err.printf(Locale.ROOT, "Nothing was imported: %,d %s.%n", problems.count(),
				(problems.count() == 1) ? "problem" : "problems");
		if (!refused.complete()) {
			err.println("Rules about several rows were not asked, since not all files could be read.");
		}
		problems.discard();
	}

	/** Says each stage, and within one from time to time how much of it is done. */
	private static final class Told implements ImportProgress {

		private static final Duration QUIET = Duration.ofSeconds(1);

		private final PrintStream err;

		private final Clock clock;

		private @Nullable Stage stage;

		private Instant last = Instant.EPOCH;

		Told(PrintStream err, Clock clock) {
			this.err = err;
			this.clock = clock;
		}

		@Override
		public void at(Stage stage, String file, long done, long total) {
			Instant now = this.clock.instant();
			if (stage == this.stage && Duration.between(this.last, now).compareTo(QUIET) < 0) {
				return;
			}
			this.stage = stage;
			this.last = now;
			this.err.printf(Locale.ROOT, "%-12s %3d %%  %s%n", stage.name().toLowerCase(Locale.ROOT).replace('_', ' '),
					(total == 0) ? 0 : 100 * done / total, file);
		}

	}

}
