package org.seriatim.backup.domain;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AccountRegister;
import org.seriatim.database.OneServiceAtATime;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.scheduling.concurrent.ThreadPoolTaskExecutor;
import org.springframework.security.concurrent.DelegatingSecurityContextRunnable;
import org.springframework.stereotype.Component;

/**
 * Makes backups in the folder of backups beside the pages, one at a time: when somebody
 * asks for one, and by itself at the times that are set. One by itself that failed is
 * tried again after an hour.
 */
@Component
public class BackupJobs implements DisposableBean {

	private static final Logger logger = LoggerFactory.getLogger(BackupJobs.class);

	private static final Duration TRY_AGAIN = Duration.ofHours(1);

	private static final int SECONDS_TO_END = 60;

	private final RunBackup backup;

	private final BackupRuns runs;

	private final BackupFolder folder;

	private final Passphrases passphrases;

	private final BackupSettings settings;

	private final AccountRegister accounts;

	private final OneServiceAtATime services;

	private final Clock clock;

	private final ThreadPoolTaskExecutor executor = new ThreadPoolTaskExecutor();

	private volatile @Nullable Instant runningSince;

	BackupJobs(RunBackup backup, BackupRuns runs, BackupFolder folder, Passphrases passphrases, BackupSettings settings,
			AccountRegister accounts, OneServiceAtATime services, Clock clock) {
		this.backup = backup;
		this.runs = runs;
		this.folder = folder;
		this.passphrases = passphrases;
		this.settings = settings;
		this.accounts = accounts;
		this.services = services;
		this.clock = clock;
		this.executor.setCorePoolSize(1);
		this.executor.setMaxPoolSize(1);
		this.executor.setDaemon(true);
		this.executor.setThreadNamePrefix("backup-");
		this.executor.setWaitForTasksToCompleteOnShutdown(true);
		this.executor.setAwaitTerminationSeconds(SECONDS_TO_END);
		this.executor.initialize();
	}

	/** Since when one is being made by this service. */
	public Optional<Instant> runningSince() {
		return Optional.ofNullable(this.runningSince);
	}

	/** Whether one is being made by another service on the database, or by a command. */
	public boolean isRunningElsewhere() {
		return this.runningSince == null && this.runs.isOneBeingMade();
	}

	/**
	 * Starts one in the name of who asks for it, and waits for its end, but not for long:
	 * it goes on whether or not anybody looks.
	 * @return whether it was started; there is one at a time
	 */
	public boolean start(Duration patience) {
		if (isRunningElsewhere()) {
			return false;
		}
		var started = start(BackupRun.How.PAGE);
		started.ifPresent((job) -> await(job, patience));
		return started.isPresent();
	}

	private static void await(Future<?> job, Duration patience) {
		try {
			job.get(patience.toMillis(), TimeUnit.MILLISECONDS);
		}
		catch (TimeoutException ex) {
			// the page says that it goes on
		}
		catch (InterruptedException ex) {
			Thread.currentThread().interrupt();
		}
		catch (ExecutionException ex) {
			throw new IllegalStateException("a backup keeps what became of it to itself", ex);
		}
	}

	private synchronized Optional<Future<?>> start(BackupRun.How how) {
		if (this.runningSince != null) {
			return Optional.empty();
		}
		this.runningSince = this.clock.instant();
		Runnable job = (how == BackupRun.How.SCHEDULE) ? this::runIfStillDue : () -> run(how);
		return Optional.of(this.executor.submit(new DelegatingSecurityContextRunnable(() -> {
			try {
				job.run();
			}
			finally {
				this.runningSince = null;
			}
		})));
	}

	/** Starts one by itself if one is due. */
	Optional<Future<?>> startIfDue() {
		if (this.passphrases.isConfigured() && this.runningSince == null && !this.settings.at().isEmpty() && isDue()) {
			return start(BackupRun.How.SCHEDULE);
		}
		return Optional.empty();
	}

	/**
	 * Since the last of the times that are set there was no good one, also not by another
	 * service on the same database. An installation without accounts has nothing to lose,
	 * and its backup would count as the newest of a clinic that is being brought back.
	 */
	private boolean isDue() {
		Instant now = this.clock.instant();
		Instant wanted = lastTime(now);
		boolean made = this.runs.lastGoodInFolder().filter((at) -> !at.isBefore(wanted)).isPresent();
		boolean tried = this.runs.lastTry()
			.filter((at) -> !at.isBefore(wanted) && at.plus(TRY_AGAIN).isAfter(now))
			.isPresent();
		return !made && !tried && !this.accounts.isEmpty();
	}

	/** The last moment at which one should have been made. */
	private Instant lastTime(Instant now) {
		var zone = this.clock.getZone();
		var today = now.atZone(zone).toLocalDate();
		return this.settings.at()
			.stream()
			.map((time) -> today.atTime(time).atZone(zone).toInstant())
			.map((at) -> at.isAfter(now) ? at.atZone(zone).minusDays(1).toInstant() : at)
			.max(Instant::compareTo)
			.orElseThrow();
	}

	/** Several services on one database find it due in the same minute. */
	private void runIfStillDue() {
		this.services.run("scheduled backup", () -> {
			if (isDue()) {
				run(BackupRun.How.SCHEDULE);
			}
		});
	}

	private void run(BackupRun.How how) {
		try {
			this.backup.run(how, this::target);
			int gone = this.folder.tidy(
					new Retention(this.settings.keepDaily(), this.settings.keepWeekly(), this.settings.keepMonthly()),
					this.clock.getZone());
			if (gone > 0) {
				this.backup.removed(gone);
			}
		}
		catch (BackupFolder.NotTidied ex) {
			this.backup.failed(how, String.valueOf(ex.getMessage()));
		}
		catch (BackupRefused ex) {
			logger.debug("What became of it is kept, and shown on the page", ex);
		}
		catch (RuntimeException ex) {
			logger.error("What became of a backup could not be kept", ex);
		}
	}

	private RunBackup.Target target() {
		var passphrase = this.passphrases.forBackup()
			.orElseThrow(() -> new BackupRefused(
					"No passphrase is set. Set %s in the environment of the service.".formatted(Passphrases.VARIABLE)));
		return new RunBackup.Target(this.folder.next(this.clock.instant()), passphrase);
	}

	@Override
	public void destroy() {
		this.executor.shutdown();
	}

}
