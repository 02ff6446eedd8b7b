package org.seriatim.exchange.domain;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

import org.seriatim.access.CurrentStaff;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffMember;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportResult;

import org.springframework.beans.factory.DisposableBean;
import org.springframework.scheduling.concurrent.ThreadPoolTaskExecutor;
import org.springframework.security.concurrent.DelegatingSecurityContextRunnable;
import org.springframework.stereotype.Component;

/**
 * Imports one bundle at a time beside the pages, and remembers the last one. Only in
 * memory: with the process an import ends too, and leaves the records as they were.
 */
@Component
public class ImportJobs implements DisposableBean {

	private static final Logger logger = LoggerFactory.getLogger(ImportJobs.class);

	private static final int SECONDS_TO_END = 60;

	private final BundleImport bundleImport;

	private final CurrentStaff currentStaff;

	private final StaffDirectory staffDirectory;

	private final Clock clock;

	private final ExchangeSettings settings;

	private final ThreadPoolTaskExecutor executor = new ThreadPoolTaskExecutor();

	private volatile @Nullable ImportJob last;

	ImportJobs(BundleImport bundleImport, CurrentStaff currentStaff, StaffDirectory staffDirectory, Clock clock,
			ExchangeSettings settings) {
		this.bundleImport = bundleImport;
		this.currentStaff = currentStaff;
		this.staffDirectory = staffDirectory;
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
		ImportJob job = this.last;
		if (job != null && job.state() instanceof ImportJob.Ended ended
				&& ended.at().plus(this.settings.keepResult()).isBefore(this.clock.instant())) {
			forget(job);
		}
		return Optional.ofNullable(this.last);
	}

	/**
	 * Starts an import in the name of who asks for it.
	 * @param bundle a file that is deleted when it was read
	 * @return whether it was started; there is one at a time
	 */
	public synchronized boolean start(Path bundle, boolean update) {
		ImportJob earlier = this.last;
		if (earlier != null && earlier.isRunning()) {
			return false;
		}
		if (earlier != null) {
			forget(earlier);
		}
		String by = this.currentStaff.id().flatMap(this.staffDirectory::byId).map(StaffMember::name).orElse("");
		ImportJob job = new ImportJob(UUID.randomUUID(), by, this.clock.instant(), update,
				new ImportJob.Running(null, "", 0, 0));
		this.last = job;
		this.executor.execute(new DelegatingSecurityContextRunnable(() -> run(job, bundle)));
		return true;
	}

	private void run(ImportJob job, Path bundle) {
		try {
			ImportResult result = this.bundleImport.take(bundle, job.update(),
					(stage, file, done, total) -> this.last = job.at(new ImportJob.Running(stage, file, done, total)));
			this.last = job.at(new ImportJob.Ended(result, this.clock.instant()));
		}
		catch (RuntimeException | Error ex) {
			logger.error("Import {} broke off", job.id(), ex);
			this.last = job.at(new ImportJob.BrokenOff(this.clock.instant()));
		}
		finally {
			delete(bundle);
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

	private synchronized void forget(ImportJob job) {
		if (job.state() instanceof ImportJob.Ended ended && ended.result() instanceof ImportResult.Refused refused) {
			refused.problems().discard();
		}
		if (this.last == job) {
			this.last = null;
		}
	}

	@Override
	public void destroy() {
		this.executor.shutdown();
		ImportJob job = this.last;
		if (job != null) {
			forget(job);
		}
	}

}
