package org.seriatim.exchange.web;

import java.time.ZoneId;
import java.util.List;
import java.util.Locale;

import org.jspecify.annotations.Nullable;

import org.seriatim.exchange.ImportResult;
import org.seriatim.exchange.ImportResult.FileCounts;
import org.seriatim.exchange.Problem;
import org.seriatim.exchange.domain.ImportJob;
import org.seriatim.shell.Written;

/**
 * An import as its page shows it.
 *
 * @param by who started it
 * @param startedAt when, in the clinic's time
 * @param progress how far it is, none once it has ended
 * @param taken what it brought, if it was taken
 * @param refused why it was refused, if it was
 */
record ImportPage(String job, String by, String startedAt, boolean update, @Nullable Progress progress,
		@Nullable Taken taken, @Nullable Refused refused) {

	/**
	 * Parts of a whole import that a stage makes up in the bar, in the order of the
	 * stages.
	 */
	private static final List<Integer> SHARES = List.of(30, 20, 40, 10);

	private static final int WHOLE = 100;

	static ImportPage of(ImportJob job, ZoneId zone) {
		ImportJob.State state = job.state();
		return new ImportPage(job.id().toString(), job.by(), Written.time(job.startedAt(), zone), job.update(),
				(state instanceof ImportJob.Running running) ? Progress.of(running) : null,
				(state instanceof ImportJob.Ended ended && ended.result() instanceof ImportResult.Taken taken)
						? Taken.of(taken) : null,
				(state instanceof ImportJob.Ended ended && ended.result() instanceof ImportResult.Refused refused)
						? Refused.of(refused) : null);
	}

	public boolean brokenOff() {
		return this.progress == null && this.taken == null && this.refused == null;
	}

	/**
	 * How far an import is.
	 *
	 * @param stage message key of the stage
	 * @param file the file that the stage has come to
	 * @param percent of the whole import
	 */
	record Progress(String stage, String file, int percent) {

		static Progress of(ImportJob.Running running) {
			if (running.stage() == null) {
				return new Progress("exchange.import.stage.waiting", "", 0);
			}
			int stage = running.stage().ordinal();
			int before = SHARES.subList(0, stage).stream().mapToInt(Integer::intValue).sum();
			long within = (running.total() == 0) ? 0 : SHARES.get(stage) * running.done() / running.total();
			return new Progress(
					"exchange.import.stage." + running.stage().name().toLowerCase(Locale.ROOT).replace('_', '-'),
					running.file(), (int) Math.min(WHOLE, before + within));
		}

	}

	/** What a bundle brought. */
	record Taken(List<Counts> files, Counts all, String digest, boolean changedNothing) {

		static Taken of(ImportResult.Taken taken) {
			return new Taken(taken.files().stream().map(Counts::of).toList(),
					Counts.of(new FileCounts("", taken.added(), taken.changed(), taken.unchanged())), taken.digest(),
					taken.added() + taken.changed() == 0);
		}

	}

	/** Rows of a file. */
	record Counts(String file, String added, String changed, String unchanged) {

		static Counts of(FileCounts counts) {
			return new Counts(counts.file(), written(counts.added()), written(counts.changed()),
					written(counts.unchanged()));
		}

	}

	/** Why a bundle was refused: the first problems and how many there are. */
	record Refused(List<Problem> first, String shown, String count, boolean onlySome, boolean complete) {

		static Refused of(ImportResult.Refused refused) {
			List<Problem> first = refused.problems().first();
			return new Refused(first, written(first.size()), written(refused.problems().count()),
					first.size() < refused.problems().count(), refused.complete());
		}

	}

	private static String written(long number) {
		return String.format(Locale.ENGLISH, "%,d", number);
	}

}
