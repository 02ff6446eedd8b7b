package org.seriatim.exchange.domain;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.TimeUnit;

import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

import org.seriatim.access.CurrentStaff;
import org.seriatim.database.OneServiceAtATime;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportProgress.Stage;

import org.springframework.beans.factory.DisposableBean;
import org.springframework.scheduling.concurrent.ThreadPoolTaskExecutor;
import org.springframework.security.concurrent.DelegatingSecurityContextRunnable;
import org.springframework.stereotype.Component;

/**
 * Imports one bundle at a time beside the pages, whichever of the services on the
 * database it was brought to, and remembers the last one, so that each of them can show
 * it. With its service an import ends too, and leaves the records as they were.
 */
@Component
public class ImportJobs implements DisposableBean {

	private static final Logger logger = LoggerFactory.getLogger(ImportJobs.class);

	private static final String WORK = "import";

	private static final int SECONDS_TO_END = 60;

	/** More than it takes from the start of an import until its service is at it. */
	private static final Duration SURELY_BEGUN = Duration.ofSeconds(10);

	private final BundleImport bundleImport;

	private final StoredImportJobs jobs;

	private final OneServiceAtATime services;

	private final CurrentStaff currentStaff;

	private final Clock clock;

	private final ExchangeSettings settings;

	private final ThreadPoolTaskExecutor executor = new ThreadPoolTaskExecutor();

	ImportJobs(BundleImport bundleImport, StoredImportJobs jobs, OneServiceAtATime services, CurrentStaff currentStaff,
			Clock clock, ExchangeSettings settings) {
		this.bundleImport = bundleImport;
		this.jobs = jobs;
		this.services = services;
		this.currentStaff = currentStaff;
		this.clock = clock;
		this.settings = settings;
		this.executor.setCorePoolSize(1);
		this.executor.setMaxPoolSize(1);
		this.executor.setDaemon(true);
		this.executor.setThreadNamePrefix("import-");
		// who stops the service would rather wait a minute than start again
		this.executor.setWaitForTasksToCompleteOnShutdown(true);
		this.executor.setAwaitTerminationSeconds(SECONDS_TO_END);
		this.executor.initialize();
	}

	/** The last import, unless it ended too long ago. */
	public Optional<ImportJob> last() {
		this.jobs.forgetEndedBefore(this.clock.instant().minus(this.settings.keepResult()));
		return this.jobs.last().map(this::unlessItsServiceDied);
	}

	private ImportJob unlessItsServiceDied(ImportJob job) {
		var now = this.clock.instant();
		if (!job.isRunning() || job.startedAt().plus(SURELY_BEGUN).isAfter(now) || this.services.isAtWork(WORK)) {
			return job;
		}
		this.jobs.brokenOff(job.id(), now);
		return this.jobs.last().orElse(job);
	}

	/**
	 * Starts an import in the name of who asks for it.
	 * @param bundle a file that is deleted when it was read
	 * @return whether it was started; there is one at a time
	 */
	public synchronized boolean start(Path bundle, boolean update) {
		var earlier = last();
		if (earlier.filter(ImportJob::isRunning).isPresent()) {
			return false;
		}
		earlier.map(ImportJob::id).ifPresent(this.jobs::remove);
		var job = new ImportJob(UUID.randomUUID(), "", this.clock.instant(), update,
				new ImportJob.Running(null, "", 0, 0));
		if (!this.jobs.add(job, this.currentStaff.id().orElse(null))) {
			return false;
		}
		this.executor.execute(new DelegatingSecurityContextRunnable(() -> run(job, bundle)));
		return true;
	}

	private void run(ImportJob job, Path bundle) {
		try {
			if (!this.services.run(WORK, () -> take(job, bundle))) {
				// one that was taken for dead goes on all the same
				this.jobs.brokenOff(job.id(), this.clock.instant());
			}
		}
		finally {
			delete(bundle);
		}
	}

	private void take(ImportJob job, Path bundle) {
		try {
			var result = this.bundleImport.take(bundle, job.update(), new Said(job.id()));
			this.jobs.ended(job.id(), result, this.clock.instant());
		}
		catch (RuntimeException | Error ex) {
			logger.error("Import {} broke off", job.id(), ex);
			this.jobs.brokenOff(job.id(), this.clock.instant());
		}
	}

	private static void delete(Path bundle) {
		try {
			Files.deleteIfExists(bundle);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	/** Says how far it is at each stage, and within one every half a second. */
	private final class Said implements ImportProgress {

		private static final long PAUSE = TimeUnit.MILLISECONDS.toNanos(500);

		private final UUID job;

		private @Nullable Stage stage;

		private long at;

		Said(UUID job) {
			this.job = job;
		}

		@Override
		public void at(Stage stage, String file, long done, long total) {
			if (stage != this.stage || System.nanoTime() - this.at > PAUSE) {
				ImportJobs.this.jobs.progress(this.job, stage, file, done, total);
				this.stage = stage;
				this.at = System.nanoTime();
			}
		}

	}

	@Override
	public void destroy() {
		this.executor.shutdown();
	}

}
